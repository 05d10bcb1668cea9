// Weather that stops work: wind and lightning.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

struct WindReadings {
    double speed_m_s =
        0.0; ///< at the height of the work, 0 to 75; at 20 m it may be half as much again as below
    std::optional<double> plate_m_s; ///< limit on the plate of the lifting platform in use, 1 to 40
};

/// Weather is acted on at once, so every action here is due before supply returns.
/// Bands of the set: from "wind.caution_from" Watch, above "wind.no_climbing_above" Danger for climbing,
/// above "wind.platform_above" (or the plate's lower figure) Danger for the platform too. Subject
/// "conditions.wind".
[[nodiscard]] Outcome wind(const WindReadings& readings, const model::LimitSet& limits);

/// Thunder and lightning as the crew noticed it; both empty when none was noticed.
struct LightningReadings {
    std::optional<double> flash_to_thunder_s; ///< 0 to 300; nothing when only thunder was heard
    std::optional<double> minutes_since_last; ///< since the last flash or thunder, 0 to 1440
};

/// Any thunder or flash within "lightning.wait" minutes stops work, whatever the count of seconds (the 30 s
/// rule, "lightning.stop_within", serves only to say how near). Danger while waiting, with the minutes left;
/// Watch after it; Sound when none was noticed. Subject "conditions.lightning".
[[nodiscard]] Outcome lightning(const LightningReadings& readings, const model::LimitSet& limits);

/// Distance of a flash by the speed of sound, 343 m/s, in m; seconds 0 to 300.
[[nodiscard]] std::optional<double> flash_distance_m(double flash_to_thunder_s);

} // namespace crossarm::rules
