#include "ui/drawing/part_places.hpp"

#include <array>

namespace crossarm::ui {

namespace {

struct PlaceRow {
    std::string_view part;
    std::array<Point, 3> at; // by Spread
};

// From the line at the top to the earth at the bottom.
constexpr std::array kPlaces = {
    PlaceRow{"hv_jumpers", {Point{2.5F, 0.5F}, Point{2.0F, 0.5F}, Point{1.5F, 0.5F}}},
    PlaceRow{"hv_fuses", {Point{1.5F, 0.5F}, Point{1.5F, 1.5F}, Point{0.5F, 1.5F}}},
    PlaceRow{"surge_arresters", {Point{3.5F, 0.5F}, Point{2.5F, 1.5F}, Point{2.5F, 1.5F}}},
    PlaceRow{"trees", {Point{0.5F, 1.5F}, Point{0.5F, 2.5F}, Point{0.5F, 3.5F}}},
    PlaceRow{"hv_bushings", {Point{2.5F, 1.5F}, Point{2.0F, 2.5F}, Point{1.5F, 2.5F}}},
    PlaceRow{"breather", {Point{3.5F, 1.5F}, Point{3.5F, 2.5F}, Point{2.5F, 3.5F}}},
    PlaceRow{"oil", {Point{1.5F, 2.5F}, Point{1.0F, 3.5F}, Point{0.5F, 5.5F}}},
    PlaceRow{"tank", {Point{2.5F, 2.5F}, Point{2.0F, 3.5F}, Point{1.5F, 4.5F}}},
    PlaceRow{"lv_bushings", {Point{3.5F, 2.5F}, Point{3.0F, 3.5F}, Point{2.5F, 5.5F}}},
    PlaceRow{"lettering", {Point{2.5F, 3.5F}, Point{1.0F, 4.5F}, Point{1.5F, 6.5F}}},
    PlaceRow{"lv_cable", {Point{4.5F, 2.5F}, Point{3.0F, 4.5F}, Point{2.5F, 6.5F}}},
    PlaceRow{"pole_stays", {Point{0.5F, 3.5F}, Point{0.5F, 5.5F}, Point{0.5F, 7.5F}}},
    PlaceRow{"lv_breaker", {Point{4.5F, 3.5F}, Point{3.0F, 5.5F}, Point{2.5F, 7.5F}}},
    PlaceRow{"earth_electrodes", {Point{1.5F, 3.5F}, Point{1.5F, 6.5F}, Point{1.5F, 8.5F}}},
};

} // namespace

PartGrid grid_of(Spread spread) {
    switch (spread) {
    case Spread::Wide:
        return {5, 4};
    case Spread::Upright:
        return {4, 7};
    case Spread::Narrow:
        return {3, 9};
    }
    return {3, 9};
}

std::optional<Point> place_of(std::string_view part, Spread spread) {
    for (const PlaceRow& row : kPlaces) {
        if (row.part == part) {
            return row.at[static_cast<std::size_t>(spread)];
        }
    }
    return std::nullopt;
}

} // namespace crossarm::ui
