// Reads text one character at a time.
#pragma once

#include <cstddef>
#include <string_view>

namespace crossarm::ui {

/// The character at `at`, which moves on behind it; U+FFFD for a byte that is no UTF-8. `at` < text.size().
[[nodiscard]] inline char32_t next_character(std::string_view text, std::size_t& at) {
    const auto byte = [&text](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned first = byte(at++);
    if (first < 0x80U) {
        return first;
    }
    const std::size_t more = first >= 0xF0U ? 3 : first >= 0xE0U ? 2 : 1;
    if (first < 0xC2U || first > 0xF4U || at + more > text.size()) {
        return 0xFFFD;
    }
    char32_t character = first & (0x3FU >> more);
    for (std::size_t i = 0; i < more; ++i) {
        if ((byte(at + i) & 0xC0U) != 0x80U) {
            return 0xFFFD;
        }
        character = character << 6U | (byte(at + i) & 0x3FU);
    }
    at += more;
    return character;
}

} // namespace crossarm::ui
