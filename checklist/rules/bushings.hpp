// Damage of a bushing.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <string>

namespace crossarm::rules {

/// What is seen at the worst bushing of a side.
struct DamageReadings {
    std::string seen; ///< "none", "chip_edge", "hairline", "crack_flange", "tracked", "broken"
};

/// Grades what is seen. `limits` is a set of subject "bushings.damage" with a table "damage" (columns
/// "grade": 0 Sound, 1 Watch, 2 Repair, 3 Danger; "days": 0 before supply returns, 7, 30, 365 next visit, -1
/// nothing to do). NoVerdict: a word that the table does not have, or a table that is not so.
[[nodiscard]] Outcome damage(const DamageReadings& readings, const model::LimitSet& limits);

} // namespace crossarm::rules
