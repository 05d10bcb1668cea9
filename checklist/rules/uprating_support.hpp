// Whether the structure carries the new transformer, and whether its live parts keep their distances.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>

namespace crossarm::rules {

struct MassReadings {
    double rating_kVA = 0.0;
    std::string support;            ///< "single-pole", "two-pole", as the register has it
    std::optional<double> mass_kg;  ///< of the new unit, from its plate or offer, oil included; 1 to 20 000
    std::optional<double> limit_kg; ///< what the structure may carry there, 1 to 50 000
    double other_kg = 0.0;          ///< platform, breakers, people at work, 0 to 20 000
};
/// Mass and other load against the limit: fails above it, marginal above "mass.marginal" percent. Without a
/// limit the rule of thumb "support" (rows by support, "up_to" kVA) only tells marginal from refused: it
/// never passes. Without a mass from a plate or offer refused: typical masses spread by a quarter. Subject
/// "uprating.mass".
[[nodiscard]] Outcome mass_check(const MassReadings& readings, const model::LimitSet& set);

struct AirReadings {
    double hv_kV = 11.0;             ///< nominal; the highest voltage is taken 10 % above
    double impulse_kV = 0.0;         ///< withstand of the new unit, 20 to 400
    std::optional<double> spacing_m; ///< least air between live parts, or to earth, 0 to 10
    std::optional<double> height_m;  ///< lowest bare live part above where people stand, 0 to 30
};
/// Against the table "clearance" (rows "up_to" kV, "impulse" kV, "clearance" m) and the height of
/// "height.add" over it, not below "height.least": fails below, marginal within "marginal.add" percent above.
/// Refused when neither was measured or no row holds the voltage and impulse withstand. Subject
/// "uprating.clearance".
[[nodiscard]] Outcome air_check(const AirReadings& readings, const model::LimitSet& set);

} // namespace crossarm::rules
