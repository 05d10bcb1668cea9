#include "ui/touch/button.hpp"

#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>

namespace crossarm::ui {
namespace {

/// The words of a button broken into lines for one width.
struct Laid {
    Lines label;
    Lines second;
    Lines why;
    float side = 0; // taken by the mark
    float width = 0;
    [[nodiscard]] float height() const { return label.height + second.height + why.height; }
    [[nodiscard]] bool word_broken() const {
        return label.word_broken || second.word_broken || why.word_broken;
    }
};

Laid lay_out_button(const Touch& touch, std::string_view label, const ButtonLook& look, float width) {
    const Sizes& sizes = touch.sizes();
    Laid laid;
    laid.side = look.mark ? sizes.mark() + sizes.pad() : 0;
    laid.width = width - 2 * sizes.pad() - laid.side;
    const Fonts& fonts = touch.fonts();
    laid.label = lay_out(fonts, label, laid.width, look.letter, Weight::Bold);
    laid.second = lay_out(fonts, look.second, laid.width);
    laid.why = lay_out(fonts, look.why_disabled, laid.width);
    return laid;
}

float height_of(const Sizes& sizes, const Laid& laid) {
    return std::max(sizes.target(), laid.height() + 2 * sizes.pad());
}

struct Paint {
    Role ground;
    Role words;
    Role quiet;
};

Paint paint_of(const ButtonLook& look, bool enabled, bool down) {
    if (!enabled) {
        return {Role::Disabled, Role::DisabledWords, Role::DisabledWords};
    }
    if (look.emphasis == Emphasis::Main) {
        return {down ? Role::MainPressed : Role::Main, Role::MainWords, Role::MainWords};
    }
    return {down ? Role::Pressed : Role::Surface, Role::Words, Role::QuietWords};
}

} // namespace

float button_height(Touch& touch, std::string_view label, const ButtonLook& look, float width) {
    return height_of(touch.sizes(), lay_out_button(touch, label, look, width));
}

Touch::Press button_in(Touch& touch, std::string_view name, const Rect& rect, std::string_view label,
                       const ButtonLook& look, Kind kind) {
    const Sizes& sizes = touch.sizes();
    const Laid laid = lay_out_button(touch, label, look, rect.width());
    Item item;
    item.path = touch.path(name);
    item.kind = kind;
    item.rect = rect;
    item.text = label;
    for (const std::string_view more : {look.second, look.why_disabled}) {
        if (!more.empty()) {
            item.text += '\n';
            item.text += more;
        }
    }
    item.label_width = std::max({laid.label.width, laid.second.width, laid.why.width});
    item.label_height = laid.height();
    item.label_room_width = laid.width;
    item.label_room_height = rect.height();
    item.word_broken = laid.word_broken();
    item.enabled = look.why_disabled.empty();
    item.why_disabled = look.why_disabled;
    const bool enabled = item.enabled;
    const Touch::Press press = touch.put(std::move(item), Touch::Reacts::ToTap);

    const Paint paint = paint_of(look, enabled, press.down);
    const Theme& theme = touch.theme();
    ImDrawList& list = touch.list();
    const float corner = sizes.mm(1);
    list.AddRectFilled({rect.left, rect.top}, {rect.right, rect.bottom}, theme(paint.ground), corner);
    const bool chosen = look.emphasis == Emphasis::Chosen;
    if (chosen || (enabled && look.emphasis == Emphasis::Plain)) {
        // What cannot be touched has no edge: a difference of shape, not of greys.
        const float line = chosen ? sizes.mm(1.5F) : sizes.line();
        const Rect edge = rect.shrunk(line / 2);
        list.AddRect({edge.left, edge.top}, {edge.right, edge.bottom},
                     theme(chosen ? Role::Chosen : Role::Edge), corner, 0, line);
    }
    if (chosen) { // and a folded corner, for eyes that see no thickness in the sun
        const float fold = sizes.mm(8);
        list.AddTriangleFilled({rect.right - fold, rect.top}, {rect.right, rect.top},
                               {rect.right, rect.top + fold}, theme(Role::Chosen));
    }

    const Rect inner = rect.shrunk(sizes.pad());
    if (look.mark) {
        const float side = sizes.mark();
        const float x = inner.left + side / 2;
        const float y = rect.centre().y;
        if (paint.ground != Role::Surface && paint.ground != Role::Pressed) {
            const float half = side / 2 + sizes.mm(0.8F); // marks are made for a light ground
            list.AddRectFilled({x - half, y - half}, {x + half, y + half}, theme(Role::Ground), corner);
        }
        draw_mark(list, theme, *look.mark, x, y, side, sizes.outline());
    }
    const Align align = look.mark ? Align::Start : Align::Middle;
    Rect words{inner.left + laid.side, rect.centre().y - laid.height() / 2, inner.right, rect.bottom};
    draw_lines(touch, laid.label, words, theme(paint.words), look.letter, Weight::Bold, align);
    words.top += laid.label.height;
    draw_lines(touch, laid.second, words, theme(paint.quiet), Letter::Body, Weight::Regular, align);
    words.top += laid.second.height;
    draw_lines(touch, laid.why, words, theme(paint.quiet), Letter::Body, Weight::Regular, align);
    return press;
}

bool button(Touch& touch, std::string_view name, std::string_view label, const ButtonLook& look) {
    const Rect rect = touch.take(button_height(touch, label, look, touch.width()));
    return button_in(touch, name, rect, label, look).tapped;
}

Touch::Press press_area(Touch& touch, std::string_view name, const Rect& rect, std::string_view words,
                        std::string_view why_disabled) {
    Item item;
    item.path = touch.path(name);
    item.kind = Kind::Area;
    item.rect = rect;
    item.text = words;
    item.enabled = why_disabled.empty();
    item.why_disabled = why_disabled;
    return touch.put(std::move(item), Touch::Reacts::ToTap);
}

} // namespace crossarm::ui
