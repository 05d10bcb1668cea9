// Short-circuit heating of a cable, and the smallest cable that meets every demand on it.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/uprating_cable.hpp"
#include "checklist/rules/uprating_drop.hpp"

#include <optional>
#include <string_view>

namespace crossarm::rules {

/// k of an insulated conductor from the table "k" ("copper/xlpe" ..., "/large" above "area_most"), in
/// A √s / mm²; nothing without a row.
[[nodiscard]] std::optional<double> cable_k(Metal metal, std::string_view insulation, double area_mm2,
                                            const model::LimitSet& set);
/// k S / √t in kA. Time above 0 up to "time.most".
[[nodiscard]] std::optional<double> withstand_kA(Metal metal, std::string_view insulation, double area_mm2,
                                                 double seconds, const model::LimitSet& set);
/// (k S / I)² in s: how long the conductor takes a current.
[[nodiscard]] std::optional<double> withstand_s(Metal metal, std::string_view insulation, double area_mm2,
                                                double fault_kA, const model::LimitSet& set);

/// One run must take the whole fault for the clearing time: a fault in one of several runs is fed through
/// that run alone. Fails when it does not; marginal above "time.marginal" percent of the time it takes.
/// Beyond "time.most" refused: heating is no longer adiabatic. Subject "uprating.short_circuit".
[[nodiscard]] Outcome withstand_check(const Cable& cable, const CablePlace& place, double fault_kA,
                                      double seconds, const model::LimitSet& set);

/// What a cable has to meet.
struct CableDemand {
    CablePlace place;
    double current_A = 0.0;
    double uneven_percent = 0.0;
    double length_m = 0.0;
    double power_factor = 0.9;
    double lv_V = 433.0;
    double drop_percent = 5.0; ///< most along this cable
    double fault_kA = 0.0;
    double clearing_s = 0.0;
};
struct CableSets {
    const model::LimitSet& ampacity;
    const model::LimitSet& conductors;
    const model::LimitSet& short_circuit;
};
/// The smallest cable with the fewest runs, up to "runs.most", that carries the current, keeps the drop and
/// takes the fault. With several runs never less metal in all than what was not enough with fewer: more is
/// asked, never less is given. Nothing when none does.
[[nodiscard]] std::optional<Cable> choose_cable(const CableDemand& demand, const CableSets& sets);

} // namespace crossarm::rules
