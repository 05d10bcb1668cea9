#include "ui/drawing/structure_drawing.hpp"

#include "ui/drawing/part_places.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace crossarm::ui {

namespace {

// Lines of the drawing in cells of the part grid, turned into pixels.
class Sketch {
public:
    Sketch(Touch& touch, const Rect& frame, const PartGrid& grid)
        : touch_(touch), frame_(frame), cell_width_(frame.width() / grid.columns),
          cell_height_(frame.height() / grid.rows) {}

    [[nodiscard]] ImVec2 at(float column, float row) const {
        return {frame_.left + column * cell_width_, frame_.top + row * cell_height_};
    }
    void line(Point a, Point b, float thick_mm = 0.6F) const {
        touch_.list().AddLine(at(a.x, a.y), at(b.x, b.y), colour(), touch_.sizes().mm(thick_mm));
    }
    void body(Point top_left, Point bottom_right, float round_mm = 1.0F) const {
        const float round = touch_.sizes().mm(round_mm);
        touch_.list().AddRectFilled(at(top_left.x, top_left.y), at(bottom_right.x, bottom_right.y),
                                    touch_.theme()(Role::DrawingFill), round);
        touch_.list().AddRect(at(top_left.x, top_left.y), at(bottom_right.x, bottom_right.y), colour(), round,
                              0, touch_.sizes().mm(0.6F));
    }
    void disc(Point middle, float radius_mm) const {
        touch_.list().AddCircleFilled(at(middle.x, middle.y), touch_.sizes().mm(radius_mm),
                                      touch_.theme()(Role::DrawingFill));
        touch_.list().AddCircle(at(middle.x, middle.y), touch_.sizes().mm(radius_mm), colour(), 0,
                                touch_.sizes().mm(0.6F));
    }

private:
    [[nodiscard]] std::uint32_t colour() const { return touch_.theme()(Role::DrawingLine); }
    Touch& touch_;
    Rect frame_;
    float cell_width_;
    float cell_height_;
};

Point middle_of(std::string_view part, Spread spread) {
    return place_of(part, spread).value_or(Point{});
}

void draw_tree(const Sketch& sketch, Point at, float ground) {
    sketch.line({at.x, at.y}, {at.x, ground}, 1.6F);
    sketch.disc({at.x, at.y - 0.25F}, 9.0F);
    sketch.disc({at.x - 0.2F, at.y + 0.1F}, 7.0F);
    sketch.disc({at.x + 0.2F, at.y + 0.1F}, 7.0F);
}

// Poles, channels, line, transformer, cable, breaker box, stay and earth rods round the parts' places.
void draw_structure_lines(const Sketch& sketch, Spread spread, const PartGrid& grid) {
    const Point line = middle_of("hv_jumpers", spread);
    const Point fuse = middle_of("hv_fuses", spread);
    const Point arrester = middle_of("surge_arresters", spread);
    const Point hv = middle_of("hv_bushings", spread);
    const Point tank = middle_of("tank", spread);
    const Point lv = middle_of("lv_bushings", spread);
    const Point cable = middle_of("lv_cable", spread);
    const Point box = middle_of("lv_breaker", spread);
    const Point breather = middle_of("breather", spread);
    const Point rods = middle_of("earth_electrodes", spread);
    const Point stay = middle_of("pole_stays", spread);
    const float half = spread == Spread::Wide ? 0.55F : 0.62F; // from the middle to a pole
    const float left = tank.x - half;
    const float right = tank.x + half;
    const float ground = grid.rows - (spread == Spread::Wide ? 0.72F : 0.98F);

    draw_tree(sketch, middle_of("trees", spread), ground);
    sketch.line({0.0F, ground}, {grid.columns, ground}, 0.5F);
    for (const float pole : {left, right}) {
        sketch.line({pole, line.y - 0.35F}, {pole, ground + 0.12F}, 2.2F);
    }
    for (const float phase : {-0.12F, 0.0F, 0.12F}) {
        sketch.line({0.0F, line.y - 0.38F + phase * 0.5F}, {grid.columns, line.y - 0.38F + phase * 0.5F},
                    0.5F);
        sketch.line({line.x + phase, line.y - 0.38F + phase * 0.5F}, {hv.x + phase, hv.y}, 0.5F);
    }
    sketch.line({left - 0.25F, line.y - 0.2F}, {right + 0.25F, line.y - 0.2F}, 1.6F);
    sketch.line({fuse.x, fuse.y - 0.3F}, {hv.x - 0.12F, hv.y}, 0.5F);
    sketch.line({arrester.x, arrester.y - 0.3F}, {hv.x + 0.12F, hv.y}, 0.5F);
    sketch.line({left - 0.2F, tank.y + 0.46F}, {right + 0.2F, tank.y + 0.46F}, 1.6F); // platform

    sketch.body({tank.x - 0.5F, tank.y - 0.42F}, {tank.x + 0.5F, tank.y + 0.44F});
    for (const float fin : {-0.36F, -0.18F, 0.0F, 0.18F, 0.36F}) {
        sketch.line({tank.x + fin, tank.y - 0.34F}, {tank.x + fin, tank.y + 0.36F}, 0.4F);
    }
    sketch.line({tank.x + 0.4F, tank.y - 0.42F}, {breather.x, breather.y}, 0.8F); // pipe to the breather
    sketch.disc({breather.x, breather.y}, 5.0F);
    for (const float phase : {-0.12F, 0.0F, 0.12F}) {
        sketch.body({hv.x + phase - 0.03F, hv.y - 0.3F}, {hv.x + phase + 0.03F, tank.y - 0.42F}, 0.5F);
    }
    sketch.line({tank.x + 0.5F, lv.y}, {lv.x, lv.y}, 1.2F);
    sketch.line({lv.x, lv.y}, {cable.x, cable.y}, 1.4F);
    sketch.line({cable.x, cable.y}, {box.x, box.y}, 1.4F);
    sketch.body({box.x - 0.4F, box.y - 0.42F}, {box.x + 0.4F, box.y + 0.42F});
    sketch.line({left, line.y}, {stay.x, ground}, 0.6F); // stay
    sketch.line({left, tank.y + 0.46F}, {left, ground}, 0.5F);
    for (const float rod : {-0.3F, 0.0F, 0.3F}) {
        sketch.line({rods.x + rod, ground}, {rods.x + rod, rods.y + 0.3F}, 0.9F);
    }
    sketch.line({rods.x - 0.3F, ground + 0.06F}, {rods.x + 0.3F, ground + 0.06F}, 0.9F);
}

// The touch area of a part: mark above its words, on a light ground so that lines behind do not disturb.
bool draw_part(Touch& touch, const DrawnPart& part, const Rect& cell) {
    const Sizes& sizes = touch.sizes();
    const float inner = cell.width() - sizes.gap();
    const Lines title = lay_out(touch.fonts(), part.title, inner, Letter::Body, Weight::Bold);
    const Lines word = lay_out(touch.fonts(), part.word, inner);
    const float mark = sizes.mark();
    const float height = std::max(sizes.target(), mark + title.height + word.height + sizes.mm(1.0F));
    const float width =
        std::max(sizes.target(), std::max(mark, std::max(title.width, word.width)) + sizes.mm(2.0F));
    const Point middle = cell.centre();
    const Rect area{std::round(middle.x - width / 2), std::round(middle.y - height / 2),
                    std::round(middle.x + width / 2), std::round(middle.y + height / 2)};
    const Touch::Press press = press_area(touch, part.id, area, part.title + " " + part.word);
    touch.list().AddRectFilled({area.left, area.top}, {area.right, area.bottom},
                               touch.theme()(press.down ? Role::Pressed : Role::Ground), sizes.mm(1.5F));
    touch.list().AddRect({area.left, area.top}, {area.right, area.bottom}, touch.theme()(Role::Edge),
                         sizes.mm(1.5F), 0, sizes.line());
    draw_mark(touch.list(), touch.theme(), part.mark, middle.x, area.top + sizes.mm(0.5F) + mark / 2, mark,
              sizes.outline());
    Rect room{area.left, area.top + mark + sizes.mm(0.5F), area.right, area.bottom};
    draw_lines(touch, title, room, touch.theme()(Role::Words), Letter::Body, Weight::Bold, Align::Middle);
    room.top += title.height;
    draw_lines(touch, word, room, touch.theme()(Role::Words), Letter::Body, Weight::Regular, Align::Middle);
    return press.tapped;
}

// The height a cell needs so that the highest part and a gap fit into it.
float cell_height(Touch& touch, std::span<const DrawnPart> parts, float cell_width) {
    float out = touch.sizes().target();
    const float inner = cell_width - touch.sizes().gap();
    for (const DrawnPart& part : parts) {
        const float words = lay_out(touch.fonts(), part.title, inner, Letter::Body, Weight::Bold).height +
                            lay_out(touch.fonts(), part.word, inner).height;
        out = std::max(out, touch.sizes().mark() + words + touch.sizes().mm(1.0F));
    }
    return out + touch.sizes().gap();
}

// The first spread whose cells hold every word whole.
Spread spread_for(Touch& touch, std::span<const DrawnPart> parts) {
    const auto fits = [&](Spread spread) {
        const float inner = touch.width() / grid_of(spread).columns - touch.sizes().gap();
        return std::ranges::none_of(parts, [&](const DrawnPart& part) {
            return lay_out(touch.fonts(), part.title, inner, Letter::Body, Weight::Bold).word_broken ||
                   lay_out(touch.fonts(), part.word, inner).word_broken;
        });
    };
    if (!touch.portrait() && fits(Spread::Wide)) {
        return Spread::Wide;
    }
    return fits(Spread::Upright) ? Spread::Upright : Spread::Narrow;
}

} // namespace

std::optional<std::string> structure_drawing(Touch& touch, std::span<const DrawnPart> parts) {
    const Spread spread = spread_for(touch, parts);
    const PartGrid grid = grid_of(spread);
    const float width = touch.width() / grid.columns;
    const float height = cell_height(touch, parts, width);
    const auto strangers = std::ranges::count_if(
        parts, [&](const DrawnPart& part) { return !place_of(part.id, spread).has_value(); });
    const float more_rows = std::ceil(static_cast<float>(strangers) / grid.columns);
    const Rect frame = touch.take(height * (grid.rows + more_rows));

    const Rect drawing{frame.left, frame.top, frame.right, frame.top + height * grid.rows};
    draw_structure_lines(Sketch(touch, drawing, grid), spread, grid);

    std::optional<std::string> touched;
    float free_place = 0.0F;
    for (const DrawnPart& part : parts) {
        std::optional<Point> place = place_of(part.id, spread);
        if (!place) {
            place = Point{std::fmod(free_place, grid.columns) + 0.5F,
                          grid.rows + std::floor(free_place / grid.columns) + 0.5F};
            free_place += 1.0F;
        }
        const float left = frame.left + (place->x - 0.5F) * width;
        const float top = frame.top + (place->y - 0.5F) * height;
        if (draw_part(touch, part, {left, top, left + width, top + height})) {
            touched = part.id;
        }
    }
    return touched;
}

} // namespace crossarm::ui
