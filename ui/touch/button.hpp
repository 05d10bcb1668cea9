// A key with words on it that acts when the finger lifts inside it.
#pragma once

#include "ui/look/marks.hpp"
#include "ui/touch/touch.hpp"

#include <optional>
#include <string_view>

namespace crossarm::ui {

enum class Emphasis { Plain, Main, Chosen };

struct ButtonLook {
    Emphasis emphasis = Emphasis::Plain;
    /// Not empty: it cannot be touched now, and this says why in words, below the label.
    std::string_view why_disabled = {};
    std::optional<Mark> mark = std::nullopt; ///< drawn before the label
    std::string_view second = {};            ///< a second, quieter line
    Letter letter = Letter::Body;
};

/// Takes the column's width; at least a target high, higher when the words need it. True once a tap.
[[nodiscard]] bool button(Touch& touch, std::string_view name, std::string_view label,
                          const ButtonLook& look = {});

/// Height that button() would take in this width, and the same button in a rectangle of the caller's.
[[nodiscard]] float button_height(Touch& touch, std::string_view label, const ButtonLook& look, float width);
[[nodiscard]] Touch::Press button_in(Touch& touch, std::string_view name, const Rect& rect,
                                     std::string_view label, const ButtonLook& look = {},
                                     Kind kind = Kind::Button);

/// A touchable rectangle that the caller draws itself (a part on the structure drawing). `rect` is in px and
/// at least sizes().target() both ways; `words` is what it stands for, for the log.
[[nodiscard]] Touch::Press press_area(Touch& touch, std::string_view name, const Rect& rect,
                                      std::string_view words, std::string_view why_disabled = {});

} // namespace crossarm::ui
