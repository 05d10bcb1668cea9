// Grading one reading against one limit set, by the names that the set's limits carry.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/answer.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace crossarm::rules {

/// A grade and the limit that gave it: the worst limit crossed, or the first one kept when none is.
struct Graded {
    model::Grade grade = model::Grade::Sound;
    const model::Limit* by = nullptr; ///< points into the set; never null
};

/// For readings where low is bad (breakdown voltage). The set says with names whether the limit itself is
/// still good: "<property>.watch_at_most" grades Watch at the limit, "<property>.watch_below" only under it;
/// the same with "repair" and "danger". Nothing when the set has no such limit in `unit`, or when `value` is
/// not finite.
[[nodiscard]] std::optional<Graded> grade_low_is_bad(const model::LimitSet& limits, std::string_view property,
                                                     double value, model::Unit unit);
/// For readings where high is bad (water, acidity): "<property>.watch_from" grades Watch at the limit,
/// "<property>.watch_above" only over it; the same with "repair" and "danger".
[[nodiscard]] std::optional<Graded>
grade_high_is_bad(const model::LimitSet& limits, std::string_view property, double value, model::Unit unit);
/// A verdict by what was seen: the set's table has a row of that name with a column "grade" (0 Sound to 3
/// Danger). The reason is the sentence "<subject>.<seen>", the urgency the usual one; the action is left to
/// the caller. Nothing when the table has no such row.
[[nodiscard]] std::optional<model::Verdict> grade_by_sight(std::string_view subject,
                                                           const model::LimitSet& set, std::string_view table,
                                                           const std::string& seen);
/// The usual urgency of a grade: nothing for Sound, next visit for Watch, 30 days for Repair, before supply
/// returns for Danger.
[[nodiscard]] std::optional<model::When> usual_when(model::Grade grade);

} // namespace crossarm::rules
