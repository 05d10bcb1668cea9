#include "ui/look/marks.hpp"

#include <imgui.h>

#include <array>
#include <cmath>
#include <numbers>

namespace crossarm::ui {
namespace {

constexpr float kPi = std::numbers::pi_v<float>;

/// The square that a mark is drawn in: offsets are shares of half its side.
struct Pen {
    ImDrawList& list;
    ImVec2 centre;
    float half;
    float thick;
    ImU32 line;

    [[nodiscard]] ImVec2 at(float x, float y) const { return {centre.x + x * half, centre.y + y * half}; }
    void stroke(float x1, float y1, float x2, float y2) const {
        list.AddLine(at(x1, y1), at(x2, y2), line, thick);
    }
    void stroke(float x1, float y1, float x2, float y2, ImU32 colour) const {
        list.AddLine(at(x1, y1), at(x2, y2), colour, thick);
    }
};

void sound(const Pen& pen, ImU32 fill) {
    // Smaller than the others: the quiet normal must not catch the eye first.
    const float radius = pen.half * 0.84F - pen.thick / 2;
    pen.list.AddCircleFilled(pen.centre, radius, fill, 48);
    pen.list.AddCircle(pen.centre, radius, pen.line, 48, pen.thick);
    const ImVec2 tick[] = {pen.at(-0.38F, 0.02F), pen.at(-0.1F, 0.32F), pen.at(0.4F, -0.32F)};
    pen.list.AddPolyline(tick, 3, pen.line, 0, pen.thick);
}

void watch(const Pen& pen, ImU32 fill) {
    const float in = pen.thick / pen.half;
    const ImVec2 corners[] = {pen.at(0, -0.95F + in), pen.at(0.98F - in, 0.82F), pen.at(-0.98F + in, 0.82F)};
    pen.list.AddConvexPolyFilled(corners, 3, fill);
    pen.list.AddPolyline(corners, 3, pen.line, ImDrawFlags_Closed, pen.thick);
    pen.stroke(0, -0.3F, 0, 0.5F);
}

void repair(const Pen& pen, ImU32 fill) {
    const float r = 1.0F - pen.thick / pen.half / 2;
    const float notch = 0.24F;
    const float inner = r - 2.2F * notch;
    const ImVec2 upper[] = {pen.at(0, -r), pen.at(r - notch, -notch), pen.at(inner, 0), pen.at(-inner, 0),
                            pen.at(notch - r, -notch)};
    const ImVec2 lower[] = {pen.at(0, r), pen.at(notch - r, notch), pen.at(-inner, 0), pen.at(inner, 0),
                            pen.at(r - notch, notch)};
    pen.list.AddConvexPolyFilled(upper, 5, fill);
    pen.list.AddConvexPolyFilled(lower, 5, fill);
    pen.list.AddRectFilled(pen.at(-inner + 0.1F, -0.05F), pen.at(inner - 0.1F, 0.05F), fill); // the seam
    const ImVec2 edge[] = {upper[0], upper[1], upper[2], lower[4], lower[0], lower[1], upper[3], upper[4]};
    pen.list.AddPolyline(edge, 8, pen.line, ImDrawFlags_Closed, pen.thick);
}

void danger(const Pen& pen, ImU32 fill, ImU32 sign) {
    std::array<ImVec2, 8> corners;
    const float radius = (1.0F - pen.thick / pen.half / 2) / std::cos(kPi / 8);
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const float angle = (static_cast<float>(i) + 0.5F) * kPi / 4;
        corners[i] = pen.at(radius * std::cos(angle), radius * std::sin(angle));
    }
    pen.list.AddConvexPolyFilled(corners.data(), 8, fill);
    pen.list.AddPolyline(corners.data(), 8, pen.line, ImDrawFlags_Closed, pen.thick);
    pen.stroke(-0.42F, -0.42F, 0.42F, 0.42F, sign);
    pen.stroke(-0.42F, 0.42F, 0.42F, -0.42F, sign);
}

void unseen(const Pen& pen) {
    // Dashed and empty: unfinished, never neutral.
    const float edge = 0.92F - pen.thick / pen.half / 2;
    const float dashes[][2] = {{-edge, -edge * 0.6F}, {-edge * 0.24F, edge * 0.24F}, {edge * 0.6F, edge}};
    for (const auto& [from, to] : dashes) {
        pen.stroke(from, -edge, to, -edge);
        pen.stroke(from, edge, to, edge);
        pen.stroke(-edge, from, -edge, to);
        pen.stroke(edge, from, edge, to);
    }
    pen.list.PathArcTo(pen.at(0, -0.2F), pen.half * 0.27F, -kPi, kPi * 0.35F, 16);
    pen.list.PathLineTo(pen.at(0, 0.16F));
    pen.list.PathLineTo(pen.at(0, 0.28F));
    pen.list.PathStroke(pen.line, 0, pen.thick);
    pen.list.AddCircleFilled(pen.at(0, 0.52F), pen.thick * 0.65F, pen.line, 12);
}

void out_of_reach(const Pen& pen) {
    const float edge = 0.86F - pen.thick / pen.half / 2;
    const ImVec2 left[] = {pen.at(edge * 0.35F, -edge), pen.at(-edge, -edge), pen.at(-edge, edge),
                           pen.at(edge, edge), pen.at(edge, -edge * 0.35F)};
    pen.list.AddPolyline(left, 5, pen.line, 0, pen.thick);
    pen.stroke(-0.55F, 0.55F, 0.97F, -0.97F);
}

void not_fitted(const Pen& pen) {
    const int dots = 12;
    for (int i = 0; i < dots; ++i) {
        const float angle = 2 * kPi * static_cast<float>(i) / dots;
        pen.list.AddCircleFilled(pen.at(0.85F * std::cos(angle), 0.85F * std::sin(angle)), pen.thick * 0.6F,
                                 pen.line, 8);
    }
    pen.stroke(-0.4F, 0, 0.4F, 0);
}

} // namespace

Mark mark_of(model::Grade grade) {
    switch (grade) {
    case model::Grade::Sound:
        return Mark::Sound;
    case model::Grade::Watch:
        return Mark::Watch;
    case model::Grade::Repair:
        return Mark::Repair;
    case model::Grade::Danger:
        break;
    }
    return Mark::Danger;
}

std::string_view word_key(Mark mark) {
    constexpr std::string_view kKeys[] = {"grade.sound",    "grade.watch", "grade.repair",
                                          "grade.danger",   "mark.unseen", "mark.out_of_reach",
                                          "mark.not_fitted"};
    return kKeys[static_cast<std::size_t>(mark)];
}

void draw_mark(ImDrawList& list, const Theme& theme, Mark mark, float x, float y, float side, float outline) {
    const Pen pen{list, {x, y}, side / 2, outline, theme(Role::MarkLine)};
    switch (mark) {
    case Mark::Sound:
        return sound(pen, theme(Role::SoundFill));
    case Mark::Watch:
        return watch(pen, theme(Role::WatchFill));
    case Mark::Repair:
        return repair(pen, theme(Role::RepairFill));
    case Mark::Danger:
        return danger(pen, theme(Role::DangerFill), theme(Role::MarkLineOnDanger));
    case Mark::Unseen:
        return unseen(pen);
    case Mark::OutOfReach:
        return out_of_reach(pen);
    case Mark::NotFitted:
        return not_fitted(pen);
    }
}

} // namespace crossarm::ui
