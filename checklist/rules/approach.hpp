// Approach distances to live parts: trained people by voltage and altitude, and everybody else.
//
// Crews work on dead plant; these distances serve for the parts that stay live and for trimming near them.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

/// Where a person is, or wants to be.
struct ApproachReadings {
    double voltage_kV = 0.0;          ///< nominal phase to phase, 0.05 to 72.5
    bool between_phases = false;      ///< can reach two phases at once; otherwise phase to earth
    double altitude_m = 0.0;          ///< -500 to 6000
    std::optional<double> distance_m; ///< 0 to 100; nothing to ask how far
};

/// For people qualified for the work. Table "distance" (rows with "up_to" kV, "phase_earth",
/// "phase_phase" m) times the factor of the table "altitude" (rows "up_to" m, "factor"), rounded up to the
/// next centimetre. Up to "avoid_contact.up_to" kV the rule is not to touch: the distance is 0. A voltage
/// between two bands takes the band above. Nearer than that: Danger. Subject "approach.qualified".
[[nodiscard]] Outcome approach(const ApproachReadings& readings, const model::LimitSet& set);

/// For everybody else: "base.distance" up to "base.up_to", and "step.distance" more for every "step.voltage"
/// above it, begun steps counted whole. Altitude is not asked. Subject "approach.unqualified".
[[nodiscard]] Outcome approach_unqualified(const ApproachReadings& readings, const model::LimitSet& set);

/// The altitude factor of a set; nothing above its last row or for an impossible altitude.
[[nodiscard]] std::optional<double> altitude_factor(double altitude_m, const model::LimitSet& set);

} // namespace crossarm::rules
