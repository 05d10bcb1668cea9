#include "ui/touch/text.hpp"

#include "ui/look/utf8.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace crossarm::ui {

Lines lay_out(const Fonts& fonts, std::string_view text, float width, Letter letter, Weight weight) {
    const ImFont& font = *fonts.font(letter, weight);
    const float line_height = fonts.size(letter, weight);
    Lines result;
    const auto end_line = [&](std::size_t from, std::size_t to, float line_width) {
        result.lines.push_back(text.substr(from, to - from));
        result.width = std::max(result.width, line_width);
    };
    std::size_t line = 0;  // where the line begins
    float line_width = 0;  // up to `at`
    std::size_t space = 0; // last space of the line, if has_space
    float space_width = 0; // width before it
    bool has_space = false;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t here = at;
        const char32_t c = next_character(text, at);
        if (c == U'\n') {
            end_line(line, here, line_width);
            line = at;
            line_width = 0;
            has_space = false;
            continue;
        }
        const float advance = font.GetCharAdvance(c > 0xFFFF ? ImWchar{0xFFFD} : static_cast<ImWchar>(c));
        if (c == U' ') {
            space = here;
            space_width = line_width;
            has_space = true;
            line_width += advance;
            continue;
        }
        if (line_width + advance > width && here > line) {
            if (has_space) {
                end_line(line, space, space_width);
                at = line = space + 1;
            } else {
                result.word_broken = true;
                end_line(line, here, line_width);
                at = line = here;
            }
            line_width = 0;
            has_space = false;
            continue;
        }
        line_width += advance;
    }
    if (line < text.size()) {
        end_line(line, text.size(), line_width);
    }
    result.height = line_height * static_cast<float>(result.lines.size());
    return result;
}

float longest_word(const Fonts& fonts, std::string_view text, Weight weight, Letter letter) {
    float longest = 0;
    for (std::size_t from = 0; from < text.size();) {
        const std::size_t to = std::min(text.find(' ', from), text.size());
        longest = std::max(longest, lay_out(fonts, text.substr(from, to - from), 1e6F, letter, weight).width);
        from = to + 1;
    }
    return std::ceil(longest);
}

void draw_lines(Touch& touch, const Lines& lines, const Rect& room, std::uint32_t colour, Letter letter,
                Weight weight, Align align) {
    ImDrawList& list = touch.list();
    ImFont* const font = touch.fonts().font(letter, weight);
    const float size = touch.fonts().size(letter, weight);
    const ImVec2 low = list.GetClipRectMin();
    const ImVec2 high = list.GetClipRectMax();
    float y = room.top;
    for (const std::string_view line : lines.lines) {
        if (y + size >= low.y && y <= high.y && !line.empty()) {
            float x = room.left;
            const char* const begin = line.data();
            const char* const end = begin + line.size();
            if (align != Align::Start) {
                const float width = font->CalcTextSizeA(size, 1e9F, 0, begin, end).x;
                const float left_over = room.width() - width;
                x += std::round(align == Align::Middle ? left_over / 2 : left_over);
            }
            list.AddText(font, size, {x, y}, colour, begin, end);
        }
        y += size;
    }
}

void text(Touch& touch, std::string_view words, const TextLook& look) {
    const float width = touch.width();
    const Lines lines = lay_out(touch.fonts(), words, width, look.letter, look.weight);
    const Rect rect = touch.take(lines.height);
    touch.skip(touch.sizes().mm(2) - touch.sizes().gap());
    draw_lines(touch, lines, rect, touch.theme()(look.role), look.letter, look.weight, look.align);
    Item item;
    item.path = touch.path("text");
    item.rect = rect;
    item.text = words;
    item.label_width = lines.width;
    item.label_height = lines.height;
    item.label_room_width = width;
    item.label_room_height = rect.height();
    item.word_broken = lines.word_broken && !look.may_break_words;
    touch.put(std::move(item), Touch::Reacts::No);
}

void heading(Touch& touch, std::string_view words) {
    text(touch, words, {.letter = Letter::Value, .weight = Weight::Bold});
}

} // namespace crossarm::ui
