// A rectangle on the screen, in pixels from the top left.
#pragma once

#include <algorithm>

namespace crossarm::ui {

struct Point {
    float x = 0;
    float y = 0;
    bool operator==(const Point&) const = default;
};

struct Rect {
    float left = 0;
    float top = 0;
    float right = 0;
    float bottom = 0;

    bool operator==(const Rect&) const = default;
    [[nodiscard]] float width() const { return right - left; }
    [[nodiscard]] float height() const { return bottom - top; }
    [[nodiscard]] Point centre() const { return {(left + right) / 2, (top + bottom) / 2}; }
    [[nodiscard]] bool empty() const { return right <= left || bottom <= top; }
    [[nodiscard]] bool contains(Point p) const {
        return p.x >= left && p.x < right && p.y >= top && p.y < bottom;
    }
    [[nodiscard]] Rect shrunk(float by) const { return {left + by, top + by, right - by, bottom - by}; }
};

/// What two have in common; empty() when nothing.
[[nodiscard]] inline Rect common(const Rect& a, const Rect& b) {
    return {std::max(a.left, b.left), std::max(a.top, b.top), std::min(a.right, b.right),
            std::min(a.bottom, b.bottom)};
}

} // namespace crossarm::ui
