// Joints and terminations: how hot against ambient and twin, and resistance between phases.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <array>
#include <optional>

namespace crossarm::rules {

/// A joint under load, seen by a heat camera or a contact thermometer.
struct JointReadings {
    double joint_C = 0.0;         ///< -40 to 400
    std::optional<double> twin_C; ///< coolest like joint under the same load, -40 to 400
    double ambient_C = 0.0;       ///< in the shade, -40 to 60
    double current_A = 0.0;       ///< at that moment, 0 to 10 000
    double rated_A = 0.0;         ///< of the circuit or the transformer, above 0 up to 10 000
};

/// Grades the rise over ambient and over the twin by the set's bands, and takes the worse; a set without
/// bands for "similar" does not grade the twin. Both are first brought to rated current: rise (rated /
/// current)^n, n = "load.exponent", which must lie within "load.exponent_low" to "load.exponent_high". Above
/// rated current the measured rise stands (never brought down). Below "load.minimum_share" a cool picture
/// proves little and the rule refuses; only a joint that is already at Repair or worse as measured gets its
/// verdict, from the measured rise. Refused: not a number, out of range, or a joint more than 5 K cooler than
/// the air (a wrong reading). Subject "joint.rise".
[[nodiscard]] Outcome rise(const JointReadings& readings, const model::LimitSet& bands);

/// The like joints of three phases, each with its own current.
struct PhaseJoints {
    std::array<double, 3> joint_C{};
    std::array<double, 3> current_A{};
    double ambient_C = 0.0;
    double rated_A = 0.0;
};

/// One answer a phase; each phase's twin is the coolest of the others once brought to the phase's current.
[[nodiscard]] std::array<Outcome, 3> rise_by_phase(const PhaseJoints& joints, const model::LimitSet& bands);

/// rise (rated / current)^exponent; nothing when current or rated is not above 0, or the exponent not 1 to 2.
[[nodiscard]] std::optional<double> rise_at_rated_K(double rise_K, double current_A, double rated_A,
                                                    double exponent);

/// Resistance of like joints, one a phase, same method and lead length; each above 0 up to 1e6 µΩ.
struct JointResistances {
    std::array<double, 3> resistance_uOhm{};
};

/// Spread between phases: (highest - lowest) / lowest against "difference.investigate_above".
/// Above it Repair within 30 days, else Sound. Subject "joint.resistance".
[[nodiscard]] Outcome resistance_between_phases(const JointResistances& readings,
                                                const model::LimitSet& limits);

/// Resistance against the value at commissioning, both above 0 up to 1e6 µΩ, by "change.watch_above" and
/// "change.repair_above" percent. Lower than at commissioning is Sound. Subject "joint.resistance_change".
[[nodiscard]] Outcome resistance_since_new(double now_uOhm, double new_uOhm, const model::LimitSet& limits);

/// Surface of the parts in contact.
enum class Plating { Bare, Tin, Silver };
/// The temperature that the joint would have at rated current, rise as in `rise` (exponent "load.exponent"),
/// against the highest allowed for a bolted joint in air, "bare", "tin" or "silver" of the set. Above it:
/// Danger; within "margin" below: Watch. Refused below "load.minimum_share" unless it is already above.
/// Subject "joint.temperature".
[[nodiscard]] Outcome hottest_allowed(const JointReadings& readings, Plating plating,
                                      const model::LimitSet& limits);

/// Heat made in a joint, I^2 R, in W. Current in A, resistance in µΩ.
[[nodiscard]] double joint_heat_W(double current_A, double resistance_uOhm);

} // namespace crossarm::rules
