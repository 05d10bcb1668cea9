// The tank: oil level for its temperature, real loss against expansion, leak rate, days to the low mark.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

struct LevelReadings {
    double level_percent = 0.0;       ///< of the way from the low mark to the high mark, 0 to 100 %
    double oil_C = 0.0;               ///< top oil, read before the level, -20 to 120 °C
    std::optional<double> oil_litres; ///< nameplate, 10 to 20 000 L
};

/// Where the level should stand, % of the way between the marks: (t - low) / (high - low), cut to 0 to 100.
/// Straight for a vessel of constant section; near enough for a lying cylinder. `gauge` is a set of subject
/// "tank.level" ("gauge.low", "gauge.high" in °C). Nothing for an impossible temperature or a set without
/// marks.
[[nodiscard]] std::optional<double> expected_level_percent(double oil_C, const model::LimitSet& gauge);
/// Oil between the marks, L: volume × expansion × span of the marks. Nothing for impossible volumes.
[[nodiscard]] std::optional<double> litres_between_marks(double oil_litres, const model::LimitSet& gauge);

/// Grades how far the level stands below what its temperature explains ("shortfall.*", points of %). At the
/// low mark or below, the windings may stand dry: Danger. Too high is Watch ("surplus.watch_above"). The
/// litres to top up are worked out when the volume is known.
[[nodiscard]] Outcome level(const LevelReadings& readings, const model::LimitSet& gauge);

struct LeakReadings {
    double drops_per_min = 0.0;       ///< 0 to 600; 0 is wet without drops
    std::optional<LevelReadings> now; ///< with the volume known: days to the low mark are worked out
    double coldest_oil_C = 10.0;      ///< coldest oil until the next visit, -20 to 60 °C
};
/// Loss by dripping, L/d. `leak` is a set of subject "tank.leak" ("drop.volume", L). Nothing out of range.
[[nodiscard]] std::optional<double> leak_litres_per_day(double drops_per_min, const model::LimitSet& leak);
/// Days until the level, at the coldest oil to come, reaches the low mark with that loss; 0 when it is there
/// already. Nothing when nothing is lost, or for impossible readings.
[[nodiscard]] std::optional<double> days_to_low_mark(const LevelReadings& now, double litres_per_day,
                                                     double coldest_oil_C, const model::LimitSet& gauge);
/// Grades the drops ("drops.*", a minute) and brings the date forward when the low mark is reached before the
/// usual one. NoVerdict: impossible readings, sets without figures.
[[nodiscard]] Outcome leak(const LeakReadings& readings, const model::LimitSet& leak,
                           const model::LimitSet& gauge);

} // namespace crossarm::rules
