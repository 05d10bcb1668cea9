// Whether the LV breaker clears a fault behind it before the HV fuse link melts.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"
#include "checklist/rules/uprating_fuse.hpp"

#include <optional>

namespace crossarm::rules {

struct GradingReadings {
    FuseLink link;
    double hv_kV = 11.0;
    double lv_V = 433.0;
    double fault_kA = 0.0;            ///< three-phase, at the LV terminals, above 0 up to 200
    std::optional<double> clearing_s; ///< of the breaker at that current, by its maker's curve; 0.001 to 60
};

/// What a link is known to do at a current: it surely has not melted after `surely_whole_s`, and may have
/// melted after `may_melt_s` (nothing: not within the times of the table). Between the two nobody but the
/// maker's curve says.
struct Melting {
    double surely_whole_s = 0.0;
    std::optional<double> may_melt_s;
};
/// From the three points of the standards, by the fact alone that a larger current melts it no later: nothing
/// is interpolated. Nothing when the set has no such link or the current is not possible.
[[nodiscard]] std::optional<Melting> melting_of(const FuseLink& link, double hv_A,
                                                const model::LimitSet& set);

/// The current in the most loaded HV line. A three-phase fault and one between two phases behind a delta-star
/// transformer give the same one there; a fault to neutral gives less. Nothing for impossible values.
[[nodiscard]] std::optional<double> hv_share_A(double fault_kA, double lv_V, double hv_kV);

/// At the largest current, a fault right behind the breaker. Passes when the breaker has cleared within
/// "margin" of the time for which the link is surely whole; fails when by its maker's curve it is slower than
/// "margin" of the time after which the link may have melted. Without the maker's curve the slowest that the
/// product standard allows ("clearing.most") may still pass. Everything else is refused with the figure that
/// is missing. Set of subject "uprating.fuse_melting". Subject "uprating.grading".
[[nodiscard]] Outcome grading_check(const GradingReadings& readings, const model::LimitSet& set);

} // namespace crossarm::rules
