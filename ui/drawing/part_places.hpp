// Where each part stands on the drawing: columns and rows of a grid whose cells a glove can hit.
#pragma once

#include "ui/touch/rect.hpp"

#include <optional>
#include <string_view>

namespace crossarm::ui {

/// The grid of one orientation.
struct PartGrid {
    float columns;
    float rows;
};
inline constexpr PartGrid kUpright{4, 7}; ///< portrait
inline constexpr PartGrid kWide{7, 4};    ///< landscape

/// Middle of the part's cell in cells from the top left: whole and half columns, whole rows. Nothing for a
/// part the drawing does not know.
[[nodiscard]] std::optional<Point> place_of(std::string_view part, bool upright);

} // namespace crossarm::ui
