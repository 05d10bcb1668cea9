// The least distance that a set keeps between vegetation and a conductor.
#pragma once

#include "checklist/model/limits.hpp"

#include <optional>

namespace crossarm::rules {

/// Where the branch and the conductor are; ranges as in ClearanceReadings, checked by the caller.
struct Place {
    double voltage_kV = 0.0;
    bool insulated = false;
    bool climbable = false;
    std::optional<double> span_m;
    std::optional<double> from_support_m;
};

/// A distance and where it stands.
struct Least {
    double m = 0.0;
    model::Source source;
};

/// From the table "long_span" where the set has one, for any voltage: the first row (columns "span_from",
/// not itself included, "span_up_to", "ends", "middle", m) that holds the span, "ends" within "ends.share"
/// of the span from the nearer support, "middle" elsewhere and where the place is not known. Otherwise
/// "clearance.insulated", the table "clearance_climbable" or the table "clearance", by the voltage band.
/// Nothing when no row holds.
[[nodiscard]] std::optional<Least> least_distance(const model::LimitSet& set, const Place& place);

} // namespace crossarm::rules
