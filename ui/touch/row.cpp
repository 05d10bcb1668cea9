#include "ui/touch/row.hpp"

#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>
#include <string>

namespace crossarm::ui {
namespace {

constexpr float kMostOfWidth = 0.45F; // for value and mark word together

void put_line(std::string& text, std::string_view line) {
    if (!line.empty()) {
        text += '\n';
        text += line;
    }
}

} // namespace

bool row(Touch& touch, std::string_view name, const RowText& words) {
    const Sizes& sizes = touch.sizes();
    const Theme& theme = touch.theme();
    const Fonts& fonts = touch.fonts();
    const bool enabled = words.why_disabled.empty();
    const float pad = sizes.pad();
    const float inner = touch.width() - 2 * pad;
    const float mark_room = words.mark ? sizes.mark() + pad : 0;
    std::string own_word;
    std::string_view mark_word = words.mark_word;
    if (words.mark && mark_word.empty()) {
        own_word = touch.say(word_key(*words.mark));
        mark_word = own_word;
    }
    const float most = (inner - mark_room) * kMostOfWidth;
    const Lines value = lay_out(fonts, words.value, most, Letter::Value, Weight::Bold);
    const Lines word = lay_out(fonts, mark_word, most, Letter::Body, Weight::Bold);
    const float end_width = std::max(value.width, word.width);
    const float start_width = inner - mark_room - (end_width > 0 ? end_width + pad : 0);
    const Lines title = lay_out(fonts, words.title, start_width, Letter::Body, Weight::Bold);
    const Lines second = lay_out(fonts, words.second, start_width);
    const Lines why = lay_out(fonts, words.why_disabled, start_width);
    const float start_height = title.height + second.height + why.height;
    const float end_height = value.height + word.height;
    const float height = std::max({sizes.target(), std::max(start_height, end_height) + 2 * pad});
    const Rect rect = touch.take(height);

    Item item;
    item.path = touch.path(name);
    item.kind = Kind::Row;
    item.rect = rect;
    item.text = words.title;
    put_line(item.text, words.second);
    put_line(item.text, words.value);
    put_line(item.text, mark_word);
    put_line(item.text, words.why_disabled);
    item.label_width = std::max({title.width, second.width, why.width});
    item.label_height = std::max(start_height, end_height);
    item.label_room_width = start_width;
    item.label_room_height = height - 2 * pad;
    item.word_broken =
        title.word_broken || second.word_broken || why.word_broken || value.word_broken || word.word_broken;
    item.enabled = enabled;
    item.why_disabled = words.why_disabled;
    const Touch::Press press = touch.put(std::move(item), Touch::Reacts::ToTap);

    const Rect clip = touch.clip();
    if (common(rect, clip).empty()) {
        return press.tapped;
    }
    ImDrawList& list = touch.list();
    const Role ground = !enabled ? Role::Disabled : press.down ? Role::Pressed : Role::Surface;
    const Role ink = enabled ? Role::Words : Role::DisabledWords;
    const Role quiet = enabled ? Role::QuietWords : Role::DisabledWords;
    const float corner = sizes.mm(1);
    const float line = sizes.line();
    list.AddRectFilled({rect.left, rect.top}, {rect.right, rect.bottom}, theme(ground), corner);
    if (enabled) {
        list.AddRect({rect.left + line / 2, rect.top + line / 2},
                     {rect.right - line / 2, rect.bottom - line / 2}, theme(Role::Edge), corner, 0, line);
    }
    const float middle = rect.centre().y;
    if (words.mark) {
        draw_mark(list, theme, *words.mark, rect.right - pad - sizes.mark() / 2, middle, sizes.mark(),
                  sizes.outline());
    }
    Rect start{rect.left + pad, middle - start_height / 2, rect.left + pad + start_width, rect.bottom};
    draw_lines(touch, title, start, theme(ink), Letter::Body, Weight::Bold);
    start.top += title.height;
    draw_lines(touch, second, start, theme(quiet), Letter::Body, Weight::Regular);
    start.top += second.height;
    draw_lines(touch, why, start, theme(quiet), Letter::Body, Weight::Regular);
    Rect end{start.right, middle - end_height / 2, rect.right - pad - mark_room, rect.bottom};
    draw_lines(touch, value, end, theme(ink), Letter::Value, Weight::Bold, Align::End);
    end.top += value.height;
    draw_lines(touch, word, end, theme(ink), Letter::Body, Weight::Bold, Align::End);
    return press.tapped;
}

void mark_line(Touch& touch, Mark mark, std::string_view word) {
    const Sizes& sizes = touch.sizes();
    const std::string own_word = word.empty() ? touch.say(word_key(mark)) : std::string(word);
    const float side = sizes.mark();
    const float width = touch.width() - side - sizes.pad();
    const Lines lines = lay_out(touch.fonts(), own_word, width, Letter::Body, Weight::Bold);
    const Rect rect = touch.take(std::max(side, lines.height));
    draw_mark(touch.list(), touch.theme(), mark, rect.left + side / 2, rect.centre().y, side,
              sizes.outline());
    const Rect room{rect.left + side + sizes.pad(), rect.centre().y - lines.height / 2, rect.right,
                    rect.bottom};
    draw_lines(touch, lines, room, touch.theme()(Role::Words), Letter::Body, Weight::Bold);
    Item item;
    item.path = touch.path("mark");
    item.kind = Kind::Mark;
    item.rect = rect;
    item.text = own_word;
    item.label_width = lines.width;
    item.label_height = lines.height;
    item.label_room_width = width;
    item.label_room_height = rect.height();
    item.word_broken = lines.word_broken;
    touch.put(std::move(item), Touch::Reacts::No);
}

} // namespace crossarm::ui
