// Where each part stands on the drawing: columns and rows of a grid whose cells a glove can hit.
#pragma once

#include "ui/touch/rect.hpp"

#include <cstdint>
#include <optional>
#include <string_view>

namespace crossarm::ui {

/// Three ways to spread the same drawing: for a low and wide room, for an upright one, and for an upright one
/// whose columns must be wide because its words are long for it.
enum class Spread : std::uint8_t { Wide, Upright, Narrow };

struct PartGrid {
    float columns;
    float rows;
};
[[nodiscard]] PartGrid grid_of(Spread spread);

/// Middle of the part's cell in cells from the top left. Nothing for a part the drawing does not know. Parts
/// of one row are at least one column apart.
[[nodiscard]] std::optional<Point> place_of(std::string_view part, Spread spread);

} // namespace crossarm::ui
