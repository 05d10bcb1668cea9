// A line of a list that opens something: title, second line, value, mark with its word.
#pragma once

#include "ui/look/marks.hpp"
#include "ui/touch/touch.hpp"

#include <optional>
#include <string_view>

namespace crossarm::ui {

struct RowText {
    std::string_view title;
    std::string_view second = {};            ///< quieter, below the title
    std::string_view value = {};             ///< at the right, 4.5 mm
    std::optional<Mark> mark = std::nullopt; ///< at the left with its word below or beside
    std::string_view mark_word = {};         ///< empty: the word of the mark itself
    std::string_view why_disabled = {};      ///< as for button()
};

/// True once a tap.
[[nodiscard]] bool row(Touch& touch, std::string_view name, const RowText& words);

/// A mark with its word, as a line of its own that is not touched.
void mark_line(Touch& touch, Mark mark, std::string_view word = {});

} // namespace crossarm::ui
