// Words on the screen, broken into lines at spaces only, so that a number is never torn.
#pragma once

#include "ui/touch/touch.hpp"

#include <string_view>
#include <vector>

namespace crossarm::ui {

/// Words laid out in lines. Views into the text that was given.
struct Lines {
    std::vector<std::string_view> lines;
    float width = 0;          ///< px of the longest
    float height = 0;         ///< px of all
    bool word_broken = false; ///< a word longer than a line was broken
};

/// Breaks at spaces and at '\n'; never at U+00A0, which stands between a number and its unit.
[[nodiscard]] Lines lay_out(const Fonts& fonts, std::string_view text, float width,
                            Letter letter = Letter::Body, Weight weight = Weight::Regular);

/// Width of the longest word, px: in a narrower column it would have to be broken.
[[nodiscard]] float longest_word(const Fonts& fonts, std::string_view text, Weight weight = Weight::Regular,
                                 Letter letter = Letter::Body);

enum class Align { Start, Middle, End };

/// Draws lines in `room`, from its top. For widgets; screens call text().
void draw_lines(Touch& touch, const Lines& lines, const Rect& room, std::uint32_t colour, Letter letter,
                Weight weight, Align align = Align::Start);

struct TextLook {
    Letter letter = Letter::Body;
    Weight weight = Weight::Regular;
    Role role = Role::Words;
    Align align = Align::Start;
    bool may_break_words = false; ///< holds a path or the like, longer than a line
};

/// A paragraph across the room; wraps. Logged as Kind::Text under "text".
void text(Touch& touch, std::string_view words, const TextLook& look = {});
/// A heading: 4.5 mm bold.
void heading(Touch& touch, std::string_view words);

} // namespace crossarm::ui
