#include "ui/touch/number_pad.hpp"

#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace crossarm::ui {
namespace {

constexpr float kLeastWordsMm = 50; // beside the keys, for value and lines

/// A minus sign instead of the hyphen that is typed.
std::string shown(std::string_view number) {
    std::string text;
    for (const char c : number) {
        if (c == '-') {
            text += "−";
        } else {
            text += c;
        }
    }
    return text;
}

void show_value(Touch& touch, const NumberDraft& draft) {
    const Sizes& sizes = touch.sizes();
    const Fonts& fonts = touch.fonts();
    const std::string digits = shown(draft.text);
    const float inner = touch.width() - 2 * sizes.pad();
    const Lines unit = lay_out(fonts, draft.unit, inner, Letter::Value);
    const float unit_room = draft.unit.empty() ? 0 : unit.width + sizes.mm(1.5F);
    const float number_room = inner - unit_room;
    const Lines value = lay_out(fonts, digits, number_room, Letter::Digit, Weight::Bold);
    const float least = fonts.size(Letter::Digit, Weight::Bold);
    const Rect rect = touch.take(std::max(value.height, least) + 2 * sizes.pad());

    touch.skip(sizes.mm(2) - sizes.gap());

    const Theme& theme = touch.theme();
    const float line = sizes.line();
    touch.list().AddRect({rect.left + line / 2, rect.top + line / 2},
                         {rect.right - line / 2, rect.bottom - line / 2}, theme(Role::Edge), 0, 0, line);
    const Rect room = rect.shrunk(sizes.pad());
    draw_lines(touch, value, {room.left, room.top, room.right - unit_room, room.bottom}, theme(Role::Words),
               Letter::Digit, Weight::Bold, Align::End);
    draw_lines(touch, unit, {room.left, room.bottom - unit.height, room.right, room.bottom},
               theme(Role::QuietWords), Letter::Value, Weight::Regular, Align::End);

    Item item;
    item.path = touch.path("value");
    item.kind = Kind::Field;
    item.rect = rect;
    item.text = draft.unit.empty() ? digits : digits + "\u00A0" + draft.unit;
    item.label_width = value.width;
    item.label_height = value.height;
    item.label_room_width = number_room;
    item.label_room_height = room.height();
    item.word_broken = value.word_broken;
    touch.put(std::move(item), Touch::Reacts::No);
}

/// What stands in the way of keeping, or has to be looked at, in words; empty when all is well.
std::string state_line(const Touch& touch, const NumberDraft& draft) {
    const NumberLimits& limits = draft.limits;
    const auto with_unit = [&draft](double value) {
        return shown(plain_number(value)) + (draft.unit.empty() ? "" : "\u00A0" + draft.unit);
    };
    const auto range = [&](const char* key, std::optional<double> low, std::optional<double> high) {
        const std::string whole_key = std::string(key) + (low && high ? "_range" : low ? "_low" : "_high");
        return touch.words().say(model::Phrase{
            whole_key, {{"low", with_unit(low.value_or(0))}, {"high", with_unit(high.value_or(0))}}});
    };
    const NumberCheck result = check(draft);
    switch (result.state) {
    case NumberState::Empty:
        return touch.say("pad.empty");
    case NumberState::Unfinished:
        return touch.say("pad.unfinished");
    case NumberState::Impossible:
        return range("pad.impossible", limits.hard_low, limits.hard_high);
    case NumberState::Tenfold:
        return touch.words().say(model::Phrase{"pad.tenfold", {{"previous", with_unit(*limits.previous)}}});
    case NumberState::Unusual:
        return range("pad.unusual", limits.usual_low, limits.usual_high);
    case NumberState::Fine:
        break;
    }
    return {};
}

void show_lines(Touch& touch, const NumberDraft& draft) {
    const float top = touch.room().top;
    for (const std::string* line : {&draft.previous_line, &draft.usual_line, &draft.verdict_line}) {
        if (!line->empty()) {
            text(touch, *line, {.role = Role::QuietWords});
        }
    }
    const float notices = touch.room().top;
    if (!draft.notice.empty()) {
        text(touch, touch.say(draft.notice), {.weight = Weight::Bold, .role = Role::Warning});
    } else if (const NumberCheck result = check(draft);
               result.state != NumberState::Empty && result.state != NumberState::Fine) {
        text(touch, state_line(touch, draft), {.weight = Weight::Bold, .role = Role::Warning});
    }
    // Room for a notice of three lines at all times, so that the keys do not jump under the finger.
    const float kept = 3 * touch.fonts().size(Letter::Body, Weight::Bold) + touch.sizes().mm(2);
    const float used = touch.room().top - notices;
    touch.skip(std::max(0.0F, kept - used));
    if (touch.room().top > top) {
        touch.skip(touch.sizes().mm(1));
    }
}

struct KeySize {
    float width;
    float side_width; ///< of the column with delete, sign, clear; 0 when they stand in a line below
    float height;
    [[nodiscard]] float all(float gap) const {
        return 3 * width + 2 * gap + (side_width > 0 ? side_width + gap : 0);
    }
};

/// Keys as wide as leaves `words` px beside them, between a target and somewhat more.
KeySize key_size(Touch& touch, const NumberDraft& draft, float words) {
    const Sizes& sizes = touch.sizes();
    float side = sizes.mm(28);
    for (const char* key : {"pad.delete", "pad.clear", "pad.sign"}) {
        if (draft.limits.negative || std::string_view(key) != "pad.sign") {
            side =
                std::max(side, longest_word(touch.fonts(), touch.say(key), Weight::Bold) + 2 * sizes.pad());
        }
    }
    const float gap = sizes.gap();
    const float target = sizes.target();
    if (side > touch.width() - 3 * (target + gap)) {
        return {std::floor((touch.width() - 2 * gap) / 3), 0, target};
    }
    const float spare = touch.width() - words - (words > 0 ? gap : 0) - 3 * gap - side;
    float height = target;
    for (const char* key : {"pad.delete", "pad.clear", "pad.sign"}) {
        height = std::max(height, button_height(touch, touch.say(key), {}, side));
    }
    return {std::clamp(std::floor(spare / 3), target, std::round(target * 1.3F)), side, height};
}

void show_keys(Touch& touch, NumberDraft& draft, const KeySize& size) {
    const float gap = touch.sizes().gap();
    const auto press = [&](const char* name, const Rect& rect, std::string_view label, char key,
                           Letter letter) {
        const Touch::Press pressed = button_in(touch, name, rect, label, {.letter = letter}, Kind::Key);
        if (pressed.tapped) {
            type(draft, key);
        } else if (pressed.again) {
            draft.notice = "pad.twice"; // nothing is swallowed in silence
        }
    };
    const auto side_key = [&](std::size_t place, const Rect& rect) {
        if (place == 0) {
            press("delete", rect, touch.say("pad.delete"), '<', Letter::Body);
        } else if (place == 1 && draft.limits.negative) {
            press("sign", rect, touch.say("pad.sign"), '-', Letter::Body);
        } else if (place == 3) {
            press("clear", rect, touch.say("pad.clear"), 'C', Letter::Body);
        }
    };
    constexpr std::array<const char*, 12> kNames = {"1", "2", "3", "4",     "5", "6",
                                                    "7", "8", "9", "point", "0", ""};
    constexpr std::string_view kKeys = "123456789.0";
    for (std::size_t line = 0; line < 4; ++line) {
        const Rect room = touch.take(size.height);
        float left = room.left;
        for (std::size_t i = line * 3; i < line * 3 + 3; ++i) {
            const Rect rect{left, room.top, left + size.width, room.bottom};
            left += size.width + gap;
            if (i >= kKeys.size() || (kKeys[i] == '.' && draft.limits.decimals == 0)) {
                continue;
            }
            press(kNames[i], rect, kKeys.substr(i, 1), kKeys[i], Letter::Digit);
        }
        if (size.side_width > 0) {
            side_key(line, {left, room.top, left + size.side_width, room.bottom});
        }
    }
    if (size.side_width == 0) {
        float height = size.height;
        for (const char* key : {"pad.delete", "pad.sign", "pad.clear"}) {
            height = std::max(height, button_height(touch, touch.say(key), {}, size.width));
        }
        const Rect room = touch.take(height);
        float left = room.left;
        for (const std::size_t place : {0U, 1U, 3U}) { // delete and clear apart here too
            side_key(place, {left, room.top, left + size.width, room.bottom});
            left += size.width + gap;
        }
    }
}

bool show_keep(Touch& touch, const NumberDraft& draft) {
    const std::string why = number(draft) ? std::string() : state_line(touch, draft);
    return button(touch, "keep", touch.say("pad.keep"), {.emphasis = Emphasis::Main, .why_disabled = why});
}

} // namespace

bool number_pad(Touch& touch, std::string_view name, NumberDraft& draft) {
    const Scope scope(touch, name);
    const Sizes& sizes = touch.sizes();
    const float gap = sizes.gap();
    KeySize size = key_size(touch, draft, touch.width() / 2);
    const float keys = size.all(gap);
    const float words = touch.width() - keys - gap;
    bool keep = false;
    if (words >= sizes.mm(kLeastWordsMm)) {
        Columns columns(touch, {words, keys});
        if (!draft.title.empty()) {
            heading(touch, draft.title);
        }
        show_value(touch, draft);
        show_lines(touch, draft);
        keep = show_keep(touch, draft);
        columns.next();
        show_keys(touch, draft, size);
    } else {
        size = key_size(touch, draft, 0);
        if (!draft.title.empty()) {
            heading(touch, draft.title);
        }
        show_value(touch, draft);
        show_lines(touch, draft);
        show_keys(touch, draft, size);
        keep = show_keep(touch, draft);
    }
    return keep;
}

} // namespace crossarm::ui
