// Vegetation near conductors: distance kept, when to trim next, how far to cut, trees that can fall in.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>

namespace crossarm::rules {

/// The nearest vegetation to a conductor. Three distances must not be taken for each other: the least that
/// the law keeps (used here), the distance to reach when trimming, and the approach distance of a worker.
struct ClearanceReadings {
    double clearance_m = 0.0;             ///< nearest branch to nearest conductor as it hangs now, 0 to 100
    double voltage_kV = 0.0;              ///< nominal, phase to phase, above 0 up to 400
    bool insulated = false;               ///< covered or bundled conductor
    bool climbable = false;               ///< the tree can carry a climber or a ladder
    std::optional<double> span_m;         ///< refused when longer than the set is made for
    double allowance_m = 0.0;             ///< sag and sway still to be taken off the distance, 0 to 20
    std::optional<double> from_support_m; ///< along the line to the nearer support, 0 to half the span
};

/// Compares the distance with the set's table "clearance" (or "clearance_climbable", or the limit
/// "clearance.insulated", where the set has them). The table's rows carry voltage bands, both ends
/// included, and the first that holds the voltage counts; a voltage in no band is refused. A set with the
/// table "long_span" goes by the span and the place in it instead, and is refused without a span.
/// Below the least distance as it hangs: Danger, before supply returns. The crew is there and the line is
/// dead, so it is cut now. Below it only after the allowance: Repair within 30 days. Otherwise Sound.
/// Subject "vegetation.clearance".
[[nodiscard]] Outcome clearance(const ClearanceReadings& readings, const model::LimitSet& distances);

/// What is needed to say when the trees are due.
struct TrimReadings {
    ClearanceReadings now;
    std::string growth_class;            ///< "slow" "medium" "fast" "very_fast" "none_near"
    double months_to_next_visit = 12.0;  ///< 0 to 240
    double months_between_visits = 12.0; ///< from the next visit to the one after it, 0 to 240
};

/// The months until the branches reach the least distance, and the cut that lasts until the visit after the
/// next. Grades as `clearance`, and in addition: due before the next visit, Repair within 30 days; due before
/// the visit after it, Watch at the next visit. `growth` has the table "growth" and the longest cycle.
/// Subject "vegetation.trim".
[[nodiscard]] Outcome next_trim(const TrimReadings& readings, const model::LimitSet& distances,
                                const model::LimitSet& growth);

/// Time until the branches reach the least distance.
struct TrimCycle {
    double years = 0.0; ///< not rounded; 0 or less means due now
    int months = 0;     ///< whole months, rounded down, never below 0 nor above the cap
};

/// (achieved - least - allowance) / growth. All in m and m/a; growth above 0, the rest finite and 0 or more;
/// nothing otherwise. Growth after cutting is fastest in the first year (Follett et al., Arboriculture &
/// Urban Forestry 42(3), 2016), so give the first-year rate for short cycles.
[[nodiscard]] std::optional<TrimCycle> trim_cycle(double achieved_m, double least_m, double allowance_m,
                                                  double growth_m_per_a, int longest_months);

/// Sag of a level span, w L^2 / (8 T); weight in N/m, tension in N, all above 0; nothing otherwise.
[[nodiscard]] std::optional<double> sag_m(double weight_N_per_m, double span_m, double tension_N);

/// How far a conductor moves when wind deflects it by an angle of 0 to 90 degrees.
struct Swing {
    double sideways_m = 0.0; ///< sag sin(angle)
    double up_m = 0.0;       ///< sag (1 - cos(angle))
};
[[nodiscard]] std::optional<Swing> swing(double sag_m, double angle_deg);

/// Vegetation at the foot of a structure with fuses, switches, arresters or a transformer, which drop sparks:
/// distance of the nearest growth (0 to 100 m) against "circle.least" of a set of subject
/// "vegetation.structure". Nearer: Repair within 30 days, else Sound.
[[nodiscard]] Outcome clear_circle(double distance_m, const model::LimitSet& set);

/// A tree that could fall onto the line.
struct FallInReadings {
    double height_m = 0.0;           ///< of the tree, above 0 up to 120
    double distance_m = 0.0;         ///< foot of the tree to the line's ground track, 0 to 200
    double conductor_height_m = 0.0; ///< lowest conductor above the ground there, 0 to 60
    bool defect = false;             ///< leaning, dead, cracked, or the root plate lifted
};

/// Whether the tree reaches a conductor when it falls: height against the straight line from its foot to the
/// conductor plus the least distance of the set. Reaches and has a defect: Repair within 7 days; reaches:
/// Watch; else Sound. Subject "vegetation.fall_in".
[[nodiscard]] Outcome fall_in(const FallInReadings& readings, double voltage_kV,
                              const model::LimitSet& distances);

} // namespace crossarm::rules
