#include "ui/touch/hold_button.hpp"

#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>

namespace crossarm::ui {

bool hold_button(Touch& touch, std::string_view name, std::string_view label, std::string_view consequence,
                 std::string_view why_disabled) {
    const Sizes& sizes = touch.sizes();
    const Theme& theme = touch.theme();
    const Fonts& fonts = touch.fonts();
    const float width = touch.width() - 2 * sizes.pad();
    const bool enabled = why_disabled.empty();
    const std::string too_short = touch.say("hold.too_short");
    const std::string how = touch.say("hold.how");
    const Lines act = lay_out(fonts, label, width, Letter::Value, Weight::Bold);
    const Lines meaning = lay_out(fonts, consequence, width);
    // Room for both hints at all times: the key must not change its size under the finger.
    const Lines short_lines = lay_out(fonts, too_short, width);
    const Lines how_lines = lay_out(fonts, how, width);
    const Lines why = lay_out(fonts, why_disabled, width);
    const float hint_height = enabled ? std::max(short_lines.height, how_lines.height) : why.height;
    const float progress = sizes.mm(3);
    const float words_height = act.height + meaning.height + hint_height;
    const float height = std::max(sizes.grave_height(), words_height + progress + 2 * sizes.pad());
    const Rect rect = touch.take(height);
    touch.skip(sizes.grave_gap() - sizes.gap());

    Item item;
    item.path = touch.path(name);
    item.kind = Kind::HoldButton;
    item.rect = rect;
    item.grave = true;
    item.label_width = std::max({act.width, meaning.width, short_lines.width, how_lines.width, why.width});
    item.label_height = words_height;
    item.label_room_width = width;
    item.label_room_height = height - progress - 2 * sizes.pad();
    item.word_broken = act.word_broken || meaning.word_broken || why.word_broken;
    item.enabled = enabled;
    item.why_disabled = why_disabled;
    item.text = label;
    item.text += '\n';
    item.text += consequence;
    if (!enabled) {
        item.text += '\n';
        item.text += why_disabled;
    }
    const Touch::Press press = touch.put(std::move(item), Touch::Reacts::ToHold);
    const bool held = press.held_s >= kHoldS;
    if (held) {
        touch.hold_taken();
    }
    if (press.let_go && !held && touch.log != nullptr) {
        touch.log->items.back().text += '\n' + too_short;
    }

    ImDrawList& list = touch.list();
    const Role ground = !enabled ? Role::Disabled : press.down ? Role::MainPressed : Role::Main;
    const Role words = enabled ? Role::MainWords : Role::DisabledWords;
    list.AddRectFilled({rect.left, rect.top}, {rect.right, rect.bottom}, theme(ground), sizes.mm(1));
    if (press.held_s > 0 && !held) {
        const auto share = static_cast<float>(press.held_s / kHoldS);
        const Rect track = Rect{rect.left, rect.top, rect.right, rect.top + progress}.shrunk(sizes.line());
        list.AddRectFilled({track.left, track.top}, {track.left + share * track.width(), track.bottom},
                           theme(Role::MainWords));
    }
    Rect room = rect.shrunk(sizes.pad());
    room.top += progress + std::max(0.0F, (height - progress - 2 * sizes.pad() - words_height) / 2);
    draw_lines(touch, act, room, theme(words), Letter::Value, Weight::Bold, Align::Middle);
    room.top += act.height;
    draw_lines(touch, meaning, room, theme(words), Letter::Body, Weight::Regular, Align::Middle);
    room.top += meaning.height;
    const Lines& hint = !enabled ? why : press.let_go ? short_lines : how_lines;
    draw_lines(touch, hint, room, theme(words), Letter::Body, Weight::Regular, Align::Middle);
    return held;
}

} // namespace crossarm::ui
