// Breakdown voltage of the oil: the set of shots, its mean and scatter, and the grade.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <vector>

namespace crossarm::rules {

/// One set of shots on one filling of the test cell (IEC 60156:1995 cl. 9.3: six, 2.50 mm gap).
struct BreakdownReadings {
    std::vector<double> shots_kV; ///< in the order taken
    std::optional<double> oil_C;  ///< temperature of the oil in the cell, -20 to 110 °C
};

/// What a set of shots comes to.
struct ShotSet {
    double mean_kV = 0.0;
    double deviation_kV = 0.0; ///< sample standard deviation, n - 1
    double scatter = 0.0;      ///< deviation / mean
    double lowest_kV = 0.0;
};
/// Mean and scatter of at least two shots, all finite and more than zero; nothing otherwise.
[[nodiscard]] std::optional<ShotSet> work_out(const std::vector<double>& shots_kV);

/// Grades a set of shots by its mean. `limits` is a set of subject "oil.in_service", "oil.new" or
/// "oil.before_energising" and needs a limit "breakdown.*" in kV, measured by IEC 60156; other test methods
/// give other figures and are not interchangeable. `shots` is a set of subject "oil.shots" and says how many
/// shots make a set ("shots.number"), what a tester can show ("shots.lowest", "shots.highest", kV) and, when
/// the utility has such a rule, above which scatter the set is done again ("shots.scatter_above", %).
///
/// A set that scatters too much is never Sound: its grade is at least Watch and its action is a new set.
/// NoVerdict: another number of shots, a shot that a tester cannot show, an oil temperature out of range, a
/// set without the limits.
[[nodiscard]] Outcome breakdown(const BreakdownReadings& readings, const model::LimitSet& limits,
                                const model::LimitSet& shots);

} // namespace crossarm::rules
