// The two-pole structure as crews see it, seen from the road; its parts are touched.
#pragma once

#include "ui/look/marks.hpp"
#include "ui/touch/touch.hpp"

#include <optional>
#include <span>
#include <string>

namespace crossarm::ui {

/// A part with how it stands.
struct DrawnPart {
    std::string id;    ///< "hv_bushings"
    std::string title; ///< "HV bushings"
    Mark mark = Mark::Unseen;
    std::string word; ///< the mark's word and what else is to be said
};

/// Draws the structure as wide as the room and as high as its parts need, and returns the part touched in
/// this frame. Parts it knows no place for are put in free places below the drawing, so that none is lost.
[[nodiscard]] std::optional<std::string> structure_drawing(Touch& touch, std::span<const DrawnPart> parts);

} // namespace crossarm::ui
