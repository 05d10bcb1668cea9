// Damage of a bushing, and the creepage path that its place asks for.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
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

/// Creepage path for a place, mm: unified specific creepage (mm for each kV between phase and earth) times
/// the highest voltage of the equipment / √3. `creepage` is a set of subject "bushings.creepage" with a table
/// "creepage" (column "per_kV", mm). `pollution` is "very_light", "light", "medium", "heavy" or "very_heavy".
/// Nothing for another word or a voltage outside 0.4 to 52 kV.
[[nodiscard]] std::optional<double> creepage_mm(double highest_kV, const std::string& pollution,
                                                const model::LimitSet& creepage);

} // namespace crossarm::rules
