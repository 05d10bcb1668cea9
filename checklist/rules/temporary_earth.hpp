// Temporary earths: how large they must be for the fault current and its clearing time.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

/// k of a copper conductor, 226 √(ln((234.5 + θf) / (234.5 + θi))) in A √s / mm² (IEC 60364-5-54, Annex A).
/// Temperatures -50 to 1083 °C, the final one higher; nothing otherwise.
[[nodiscard]] std::optional<double> copper_k(double start_C, double end_C);
/// I √t / k in mm²: current 0.01 to 200 kA, time 0.02 to 5 s, k 10 to 400.
[[nodiscard]] std::optional<double> fault_area_mm2(double fault_kA, double seconds, double k);
/// Current in A that brings a copper conductor to its melting point (Onderdonk):
/// A √(log10((1083 - Ta) / (234 + Ta) + 1) / (33 t)), A in circular mils. (234 - Ta, seen in print, reads 5 %
/// too high.) Area 1 to 10^7 cmil, time 0.01 to 10 s, Ta -40 to 100 °C.
[[nodiscard]] std::optional<double> onderdonk_A(double area_cmil, double seconds, double ambient_C);

struct TemporaryEarthReadings {
    double fault_kA = 0.0;            ///< highest fault current at that place, above 0 up to 200
    double clearing_s = 0.0;          ///< back-up clearing time, 0.02 to 3
    std::optional<double> fitted_mm2; ///< the set on the truck; nothing to ask what is needed
};

/// A set with the table "withstand" (columns "area" mm2, and "current" kA by time: "kA_0.25", "kA_0.5" ...)
/// is looked up: the shortest printed time that is not shorter than the clearing time. Only withstand values
/// decide: a set that has seen its ultimate rating is scrap. A set with the table "sizes" is worked out with
/// k for a rise of "temperature_rise" from "temperature_start" and the next size taken. A set that has only
/// the table "ultimate" is looked up in the same way, but never makes a fitted set better than Watch, and
/// says that it is scrap after a fault. "area.least" of the set, where given, is never gone below. Smaller
/// than needed: Danger. Subject "earth.temporary".
[[nodiscard]] Outcome temporary_earth(const TemporaryEarthReadings& readings, const model::LimitSet& set);

} // namespace crossarm::rules
