// How bad, and how soon.
#pragma once

#include <optional>
#include <string_view>

namespace crossarm::model {

/// Grade of a finding, ordered from best to worst. "Not looked at", "out of reach" and "not fitted" are
/// not grades and never stand for Sound: they are other alternatives of an answer.
enum class Grade { Sound, Watch, Repair, Danger };

/// When an action is due, ordered from soonest to latest.
enum class When { BeforeSupplyReturns, Within7Days, Within30Days, AtNextVisit };

/// The worse of two.
[[nodiscard]] constexpr Grade worse(Grade a, Grade b) {
    return a > b ? a : b;
}

/// Names in files: "sound" "watch" "repair" "danger".
[[nodiscard]] std::string_view name(Grade grade);
[[nodiscard]] std::optional<Grade> grade_of(std::string_view name);
/// Names in files: "before_supply_returns" "within_7_days" "within_30_days" "at_next_visit".
[[nodiscard]] std::string_view name(When when);
[[nodiscard]] std::optional<When> when_of(std::string_view name);

} // namespace crossarm::model
