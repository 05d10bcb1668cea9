// The single-line sketch on the screen: as the substation is, and as the study proposes it.
#include "ui/screens/frame.hpp"
#include "ui/screens/study_screens.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>

namespace crossarm::ui {

namespace {

constexpr float kCapital = 0.72F; // of a font's height, which the sketch states

/// Millimetres of the sketch to pixels of the screen.
struct Scale {
    Rect at;
    float px = 0;
    [[nodiscard]] ImVec2 operator()(double x, double y) const {
        return {at.left + static_cast<float>(x) * px, at.top + static_cast<float>(y) * px};
    }
};

} // namespace

void draw_sketch(Touch& touch, const rules::Sketch& sketch) {
    const float px = touch.width() / static_cast<float>(sketch.width_mm);
    const Scale scale{touch.take(static_cast<float>(sketch.height_mm) * px), px};
    ImDrawList& list = touch.list();
    const std::uint32_t ink = touch.theme()(Role::DrawingLine);
    const float thick = std::max(1.0F, 0.5F * px);
    for (const rules::SketchLine& line : sketch.lines) {
        list.AddLine(scale(line.x1, line.y1), scale(line.x2, line.y2), ink, thick);
    }
    for (const rules::SketchCircle& circle : sketch.circles) {
        list.AddCircle(scale(circle.x, circle.y), static_cast<float>(circle.radius) * px, ink, 0, thick);
    }
    Item item;
    item.path = touch.path("sketch");
    item.rect = scale.at;
    item.label_room_width = scale.at.width();
    item.label_room_height = scale.at.height();
    const float capital = kCapital * static_cast<float>(sketch.letter_mm) * px;
    for (const rules::SketchText& one : sketch.texts) {
        const Weight weight = one.strong ? Weight::Bold : Weight::Regular;
        ImFont* const font = touch.fonts().font(Letter::Value, weight);
        const float size =
            touch.fonts().size(Letter::Value, weight) * capital / touch.sizes().value_capital();
        const std::string words = touch.words().say(one.says);
        const ImVec2 base = scale(one.x, one.y);
        const float ascent = font->Ascent * size / font->FontSize;
        list.AddText(font, size, {base.x, base.y - ascent}, touch.theme()(Role::Words), words.data(),
                     words.data() + words.size());
        const float right = base.x + font->CalcTextSizeA(size, 1e9F, 0, words.c_str()).x;
        item.label_width = std::max(item.label_width, right - scale.at.left);
        item.label_height = std::max(item.label_height, base.y - scale.at.top);
        item.text += (item.text.empty() ? "" : "\n") + words;
    }
    touch.put(std::move(item), Touch::Reacts::No);
}

void draw_study_sketch(Touch& touch, const StudyOne& one, bool proposed, NextPlace& next) {
    const Scope scope(touch, "sketch");
    const std::string nothing =
        one.study.proposal.rating_kVA ? std::string() : touch.say("study_screen.no_proposal");
    const auto flip = [&](const char* name, const char* key, StudyScreen screen, bool chosen,
                          const std::string& why_not) {
        if (button(touch, name, touch.say(key),
                   {.emphasis = chosen ? Emphasis::Chosen : Emphasis::Plain, .why_disabled = why_not})) {
            next = StudyPlace{screen, one.structure, ""};
        }
    };
    divide(
        touch,
        [&] {
            ActRow acts(touch, 3);
            if (button(touch, "back", touch.say("button.back"))) {
                next = StudyPlace{StudyScreen::One, one.structure, ""};
            }
            acts.next();
            flip("present", "uprating.sketch.present", StudyScreen::SketchPresent, !proposed, "");
            acts.next();
            flip("proposed", "uprating.sketch.proposed", StudyScreen::SketchProposed, proposed, nothing);
        },
        [&] {
            heading(touch, one.structure + "  " + one.name);
            const ScrollArea area(touch, "area");
            draw_sketch(touch, proposed ? one.proposed : one.present);
        });
}

} // namespace crossarm::ui
