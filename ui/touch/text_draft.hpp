// A text while it is being typed.
#pragma once

#include <cstddef>
#include <string>

namespace crossarm::ui {

struct TextDraft {
    std::string text;
    std::string title;      ///< what is asked
    std::size_t most = 200; ///< characters allowed
    bool capitals = false;  ///< the next letter is a capital
    bool digits = false;    ///< the page of digits and signs is shown
    std::size_t page = 0;   ///< which part of the page, where it does not fit at once
    std::string notice;     ///< words key of the last refusal
};

/// Appends one printable ASCII character (a letter as capital when `capitals`). False when it is full; two
/// spaces in a row and a space at the start are refused too.
bool type(TextDraft& draft, char character);
/// Removes the last character, whole also when it is more than one byte.
void delete_last(TextDraft& draft);

} // namespace crossarm::ui
