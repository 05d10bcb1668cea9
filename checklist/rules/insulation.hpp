// Insulation resistance: brought to 20 °C, against a minimum for the winding, and its absorption.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

/// One connection under test, windings discharged before and after.
struct InsulationReadings {
    double winding_kV = 0.0;  ///< rated voltage of the tested winding, 0.2 to 36 kV; HV's for HV to LV
    double rating_kVA = 0.0;  ///< nameplate, 5 to 5000 kVA; only for a set with "per_root_kVA"
    double oil_C = 0.0;       ///< temperature of the windings, as good as that of the oil, -10 to 75 °C
    double at_60s_MOhm = 0.0; ///< 0 to 1e7 MΩ
    std::optional<double> at_15s_MOhm;
    std::optional<double> at_30s_MOhm;
    std::optional<double> at_600s_MOhm;
};

/// Factor that brings a resistance at `oil_C` to 20 °C: the table "to_20" of `correction` (subject
/// "insulation.correction"), on a straight line of its logarithm between rows. Nothing outside the table.
[[nodiscard]] std::optional<double> factor_to_20_C(double oil_C, const model::LimitSet& correction);

/// The least resistance that `minimum` (subject "insulation.minimum") asks for, and whether that holds at 20
/// °C or at the temperature of the test. Which one depends on what the set has: a table "minimum" (by
/// winding, at 20 °C), a table "minimum_at" (by winding, at 30, 40, 50, 60 °C), "per_root_kVA" (times kV /
/// √kVA, at 20 °C), or "per_kV" with "plus" (at 20 °C). Nothing when the set does not reach that winding or
/// temperature.
struct Minimum {
    double least_MOhm = 0.0;
    bool at_20_C = true;
    model::Source source;
};
[[nodiscard]] std::optional<Minimum> minimum_for(const InsulationReadings& readings,
                                                 const model::LimitSet& minimum);

/// Sets that the verdict needs.
struct InsulationLimits {
    const model::LimitSet& minimum;    ///< subject "insulation.minimum": below it is Repair
    const model::LimitSet& floor;      ///< subject "insulation.floor", read the same way: below it is Danger
    const model::LimitSet& correction; ///< subject "insulation.correction"
};
/// Grades the 60 s value. Published minima differ by up to fifty times: the verdict names the set. NoVerdict:
/// impossible readings, a temperature outside the tables, sets that do not reach the winding.
[[nodiscard]] Outcome insulation(const InsulationReadings& readings, const InsulationLimits& limits);

/// Absorption: polarisation index (600 s / 60 s) and absorption ratio (60 s / 30 s or 60 s / 15 s, never one
/// for the other), graded by `absorption` (subject "insulation.absorption": "index.*", "ratio.*",
/// "ratio_15.*", unit 1); a ratio for which the set has no limit is left out. NoVerdict when the 60 s value
/// is above "meaningless.above" (the current is too small to tell), when it is 0, or when neither ratio can
/// be made.
[[nodiscard]] Outcome absorption(const InsulationReadings& readings, const model::LimitSet& absorption);

} // namespace crossarm::rules
