// The trend of one oil reading over earlier samples, and when it meets its limit.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/timestamp.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::rules {

struct Sample {
    model::Date on;
    double value = 0.0;
};

/// The straight line of least squares through samples.
struct Trend {
    double per_year = 0.0; ///< change in a year of 365.25 days
    double now = 0.0;      ///< the line at the last sample's day
    double change = 0.0;   ///< the line's change from the first sample to the last
};
/// Through two samples or more, on two days at least, all finite, in order of days; nothing otherwise.
[[nodiscard]] std::optional<Trend> trend_of(const std::vector<Sample>& samples);
/// Days after the last sample at which the line reaches `limit`; 0 when it is there already, nothing when it
/// never does. `falling_is_bad` for breakdown voltage and tension.
[[nodiscard]] std::optional<double> days_until(const Trend& trend, double limit, bool falling_is_bad);

/// Repeatability of a breakdown result, kV: 2.8 standard deviations of a set with the usual scatter
/// ("shots.usual_scatter", %, of a set of subject "oil.shots"); two results closer than that are not
/// different. Reproducibility between laboratories is taken as three times that. Nothing for a mean that is
/// not positive.
[[nodiscard]] std::optional<double> repeatability_kV(double mean_kV, const model::LimitSet& shots);

/// What is followed, and how far apart two results must be to differ.
struct Followed {
    std::string property; ///< as in the limit set: "breakdown", "acidity", "water.as_sampled" ...
    model::Unit unit = model::Unit::One;
    bool falling_is_bad = false;
    double noise = 0.0; ///< smallest change that is more than the method's scatter, 0 or more
};
/// Watch when the line runs towards the set's Repair limit, by more than the noise, and meets it within
/// "trend.ahead" days (`practice`, subject "oil.trend"). Says nothing of the last value itself: the rule of
/// the reading does. NoVerdict: fewer samples than "trend.samples", samples out of order, sets without
/// figures.
[[nodiscard]] Outcome oil_trend(const std::vector<Sample>& samples, const Followed& followed,
                                const model::LimitSet& limits, const model::LimitSet& practice);

} // namespace crossarm::rules
