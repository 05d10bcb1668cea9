#include "ui/touch/number_pad.hpp"

#include "ui/touch/button.hpp"
#include "ui/touch/key_grid.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>

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

/// The words of the acts outlive the grid that shows them.
struct ActWords {
    explicit ActWords(const Touch& touch)
        : remove(touch.say("pad.delete")), sign(touch.say("pad.sign")), clear(touch.say("pad.clear")) {}
    std::string remove, sign, clear;
};

KeyGrid keys_of(const NumberLimits& limits, const ActWords& words) {
    KeyGrid grid = digit_keys();
    grid.acts[0] = {"delete", words.remove, '<'};
    grid.acts[3] = {"clear", words.clear, 'C'};
    if (limits.decimals > 0) {
        grid.keys[9] = {"point", ".", '.'};
    }
    if (limits.negative) {
        grid.acts[1] = {"sign", words.sign, '-'};
    }
    return grid;
}

void show_keys(Touch& touch, NumberDraft& draft, const KeyGrid& grid, const KeyGridSize& size) {
    if (const auto touched = key_grid(touch, grid, size)) {
        if (touched->again) {
            draft.notice = "pad.twice"; // nothing is swallowed in silence
        } else {
            type(draft, touched->key);
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
    const ActWords act_words(touch);
    const KeyGrid grid = keys_of(draft.limits, act_words);
    KeyGridSize size = key_grid_size(touch, grid, touch.width() / 2);
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
        show_keys(touch, draft, grid, size);
    } else {
        size = key_grid_size(touch, grid, 0);
        if (!draft.title.empty()) {
            heading(touch, draft.title);
        }
        show_value(touch, draft);
        show_lines(touch, draft);
        show_keys(touch, draft, grid, size);
        keep = show_keep(touch, draft);
    }
    return keep;
}

} // namespace crossarm::ui
