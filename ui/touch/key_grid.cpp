#include "ui/touch/key_grid.hpp"

#include "ui/touch/button.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::ui {
namespace {

float acts_height(Touch& touch, const KeyGrid& grid, float width) {
    float height = touch.sizes().target();
    for (const GridKey& act : grid.acts) {
        if (!act.name.empty()) {
            height = std::max(height, button_height(touch, act.label, {}, width));
        }
    }
    return height;
}

} // namespace

KeyGrid digit_keys() {
    return {{{{"1", "1", '1'},
              {"2", "2", '2'},
              {"3", "3", '3'},
              {"4", "4", '4'},
              {"5", "5", '5'},
              {"6", "6", '6'},
              {"7", "7", '7'},
              {"8", "8", '8'},
              {"9", "9", '9'},
              {},
              {"0", "0", '0'},
              {}}},
            {}};
}

KeyGridSize key_grid_size(Touch& touch, const KeyGrid& grid, float words) {
    const Sizes& sizes = touch.sizes();
    float side = sizes.mm(28);
    for (const GridKey& act : grid.acts) {
        side = std::max(side, longest_word(touch.fonts(), act.label, Weight::Bold) + 2 * sizes.pad());
    }
    const float gap = sizes.gap();
    const float target = sizes.target();
    if (side > touch.width() - 3 * (target + gap)) {
        return {std::floor((touch.width() - 2 * gap) / 3), 0, target};
    }
    const float spare = touch.width() - words - (words > 0 ? gap : 0) - 3 * gap - side;
    return {std::clamp(std::floor(spare / 3), target, std::round(target * 1.3F)), side,
            acts_height(touch, grid, side)};
}

std::optional<GridPress> key_grid(Touch& touch, const KeyGrid& grid, const KeyGridSize& size) {
    const float gap = touch.sizes().gap();
    std::optional<GridPress> touched;
    const auto press = [&](const GridKey& key, const Rect& rect, Letter letter) {
        if (key.name.empty()) {
            return;
        }
        const Touch::Press pressed =
            button_in(touch, key.name, rect, key.label, {.letter = letter}, Kind::Key);
        if (pressed.tapped || pressed.again) {
            touched = GridPress{key.key, pressed.again};
        }
    };
    for (std::size_t line = 0; line < grid.acts.size(); ++line) {
        const Rect room = touch.take(size.height);
        float left = room.left;
        for (std::size_t i = line * 3; i < line * 3 + 3; ++i) {
            press(grid.keys[i], {left, room.top, left + size.width, room.bottom}, Letter::Digit);
            left += size.width + gap;
        }
        if (size.side_width > 0) {
            press(grid.acts[line], {left, room.top, left + size.side_width, room.bottom}, Letter::Body);
        }
    }
    if (size.side_width == 0) {
        const Rect room = touch.take(acts_height(touch, grid, size.width));
        float left = room.left;
        for (const std::size_t place : {0U, 1U, 3U}) { // the first and the last apart here too
            press(grid.acts[place], {left, room.top, left + size.width, room.bottom}, Letter::Body);
            left += size.width + gap;
        }
    }
    return touched;
}

} // namespace crossarm::ui
