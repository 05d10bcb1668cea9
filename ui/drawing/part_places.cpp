#include "ui/drawing/part_places.hpp"

#include <array>

namespace crossarm::ui {

namespace {

struct PlaceRow {
    std::string_view part;
    Point upright;
    Point wide;
};

// From the line at the top to the earth at the bottom. No two parts of a row are nearer than one column.
constexpr std::array kPlaces = {
    PlaceRow{"hv_jumpers", {2.0F, 0.5F}, {3.5F, 0.5F}},
    PlaceRow{"hv_fuses", {1.5F, 1.5F}, {2.5F, 0.5F}},
    PlaceRow{"surge_arresters", {2.5F, 1.5F}, {4.5F, 0.5F}},
    PlaceRow{"trees", {0.5F, 2.5F}, {0.5F, 1.5F}},
    PlaceRow{"hv_bushings", {2.0F, 2.5F}, {3.5F, 1.5F}},
    PlaceRow{"breather", {3.5F, 2.5F}, {4.5F, 1.5F}},
    PlaceRow{"oil", {1.0F, 3.5F}, {2.5F, 2.5F}},
    PlaceRow{"tank", {2.0F, 3.5F}, {3.5F, 2.5F}},
    PlaceRow{"lv_bushings", {3.0F, 3.5F}, {4.5F, 2.5F}},
    PlaceRow{"lettering", {1.0F, 4.5F}, {1.5F, 2.5F}},
    PlaceRow{"lv_cable", {3.0F, 4.5F}, {5.5F, 2.5F}},
    PlaceRow{"pole_stays", {0.5F, 5.5F}, {0.5F, 3.5F}},
    PlaceRow{"lv_breaker", {3.0F, 5.5F}, {5.5F, 3.5F}},
    PlaceRow{"earth_electrodes", {1.5F, 6.5F}, {2.5F, 3.5F}},
};

} // namespace

std::optional<Point> place_of(std::string_view part, bool upright) {
    for (const PlaceRow& row : kPlaces) {
        if (row.part == part) {
            return upright ? row.upright : row.wide;
        }
    }
    return std::nullopt;
}

} // namespace crossarm::ui
