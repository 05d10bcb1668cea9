// The keys of the pads: three columns of characters and a column of acts beside or below them.
#pragma once

#include "ui/touch/touch.hpp"

#include <array>
#include <optional>
#include <string_view>

namespace crossarm::ui {

/// One key. Without a name its place stays empty.
struct GridKey {
    std::string_view name = {};
    std::string_view label = {};
    char key = 0;
};

struct KeyGrid {
    std::array<GridKey, 12> keys; ///< four lines of three
    std::array<GridKey, 4> acts;  ///< beside the lines, from the top
};

/// 1 to 9 in three lines, 0 below the 8; no acts.
[[nodiscard]] KeyGrid digit_keys();

struct KeyGridSize {
    float width = 0;      ///< of a character's key, px
    float side_width = 0; ///< of the column of acts; 0 when they stand in a line below
    float height = 0;
    [[nodiscard]] float all(float gap) const {
        return 3 * width + 2 * gap + (side_width > 0 ? side_width + gap : 0);
    }
};

/// Keys as wide as leaves `words` px beside them, between a target and somewhat more.
[[nodiscard]] KeyGridSize key_grid_size(Touch& touch, const KeyGrid& grid, float words);

struct GridPress {
    char key = 0;
    bool again = false; ///< a second quick touch, which is not to be counted
};
/// The key touched in this frame, if any.
[[nodiscard]] std::optional<GridPress> key_grid(Touch& touch, const KeyGrid& grid, const KeyGridSize& size);

} // namespace crossarm::ui
