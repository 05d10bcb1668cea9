// A place on the earth in degrees, as people write it, and how far two places are apart.
#pragma once

#include <optional>
#include <string_view>

namespace crossarm::model {

struct Position {
    double latitude = 0.0;  ///< WGS 84, degrees, north positive, -90 to 90
    double longitude = 0.0; ///< WGS 84, degrees, east positive, -180 to 180
    bool operator==(const Position&) const = default;
};

/// Reads latitude and longitude, in this order: decimal degrees "-47.11228, -121.404" (the comma may be a
/// space), degrees and minutes, or degrees, minutes and seconds with the signs ° ' " (or ′ ″), each with an
/// optional N, S, E or W behind or before it: 47°06'44.2"S 121°24'14.4"W. Nothing for any other text, also
/// for a number out of range, minutes or seconds from 60 on, and a sign together with a letter.
[[nodiscard]] std::optional<Position> parse_position(std::string_view text);

/// Great-circle distance in metres by the haversine formula, on the sphere with the earth's mean radius of
/// 6 371 008.8 m (WGS 84). The true distance differs by at most about 0.5 %.
[[nodiscard]] double distance_m(Position a, Position b);

} // namespace crossarm::model
