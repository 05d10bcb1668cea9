#include "ui/touch/signature_pad.hpp"

#include "checklist/model/result.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace crossarm::ui {
namespace {

constexpr float kMostHeightMm = 45;
constexpr float kMostWidthMm = 160;
constexpr float kInkMm = 0.7F;

void follow(SignatureDraft& draft, const Touch::Press& press, const Rect& box, float px_per_mm) {
    bool first = press.began;
    for (const Point at : press.drawn) {
        const auto tenths = [px_per_mm](float px) {
            return static_cast<int>(std::lround(px / px_per_mm * 10));
        };
        const model::StrokePoint point{tenths(at.x - box.left), tenths(at.y - box.top)};
        if (first) {
            begin_line(draft, point);
        } else if (box.contains(at)) {
            draw_to(draft, point);
        } else {
            lift_off(draft);
        }
        first = false;
    }
    if (press.ended || !press.down) {
        lift_off(draft);
    }
}

void draw_ink(Touch& touch, const SignatureDraft& draft, const Rect& box) {
    const float px = touch.sizes().px_per_mm / 10;
    const float ink = touch.sizes().mm(kInkMm);
    const std::uint32_t colour = touch.theme()(Role::Words);
    ImDrawList& list = touch.list();
    for (const model::StrokeLine& line : draft.strokes.lines) {
        const auto place = [&](model::StrokePoint p) {
            return ImVec2{box.left + static_cast<float>(p.x) * px, box.top + static_cast<float>(p.y) * px};
        };
        list.AddCircleFilled(place(line.front()), ink / 2, colour);
        for (std::size_t i = 1; i < line.size(); ++i) {
            list.AddLine(place(line[i - 1]), place(line[i]), colour, ink);
            list.AddCircleFilled(place(line[i]), ink / 2, colour); // round joints
        }
    }
}

} // namespace

void signature_pad(Touch& touch, std::string_view name, SignatureDraft& draft) {
    const Scope scope(touch, name);
    const Sizes& sizes = touch.sizes();
    const float width = std::min(touch.width(), sizes.mm(kMostWidthMm));
    model::require(width >= sizes.mm(kSignatureWidthMm) - 1, "a signature pad without room for it");
    const float height =
        std::clamp(touch.height_in_sight() * 0.4F, sizes.mm(kSignatureHeightMm), sizes.mm(kMostHeightMm));
    const Rect line = touch.take(height);
    const Rect box{line.left, line.top, line.left + width, line.bottom};

    Item item;
    item.path = touch.path("box");
    item.kind = Kind::Draw;
    item.rect = box;
    item.text = draft.strokes.lines.empty() ? touch.say("signature.here") : std::string();
    const Lines hint = lay_out(touch.fonts(), item.text, width - 2 * sizes.pad());
    item.label_width = hint.width;
    item.label_height = hint.height;
    item.label_room_width = width - 2 * sizes.pad();
    item.label_room_height = height - 2 * sizes.pad();
    item.word_broken = hint.word_broken;
    const Touch::Press press = touch.put(std::move(item), Touch::Reacts::ToDraw);
    follow(draft, press, box, sizes.px_per_mm);

    const Theme& theme = touch.theme();
    ImDrawList& list = touch.list();
    const Rect edge = box.shrunk(sizes.line() / 2);
    list.AddRectFilled({box.left, box.top}, {box.right, box.bottom}, theme(Role::Ground));
    list.AddRect({edge.left, edge.top}, {edge.right, edge.bottom}, theme(Role::Edge), 0, 0, sizes.line());
    const float base = box.bottom - height * 0.25F; // to sign on
    list.AddLine({box.left + sizes.margin(), base}, {box.right - sizes.margin(), base}, theme(Role::Edge),
                 sizes.line());
    if (draft.strokes.lines.empty()) {
        draw_lines(touch, hint, box.shrunk(sizes.pad()), theme(Role::QuietWords), Letter::Body,
                   Weight::Regular);
    }
    list.PushClipRect({box.left, box.top}, {box.right, box.bottom}, true);
    draw_ink(touch, draft, box);
    list.PopClipRect();

    const std::string why = draft.strokes.lines.empty() ? touch.say("signature.empty") : std::string();
    if (button(touch, "clear", touch.say("signature.clear"), {.why_disabled = why})) {
        clear(draft);
    }
    const std::string state = why_not_signed(draft);
    if (!draft.notice.empty()) {
        text(touch, touch.say(draft.notice), {.weight = Weight::Bold, .role = Role::Warning});
    } else if (state == "signature.too_little" && !draft.open) {
        text(touch, touch.say(state), {.weight = Weight::Bold, .role = Role::Warning});
    }
}

} // namespace crossarm::ui
