// The single-line sketch as an inline drawing of a page to print.
#pragma once

#include "checklist/model/words.hpp"
#include "checklist/rules/uprating_sketch.hpp"

#include <string>

namespace crossarm::bundle {

/// An <svg> element of the sketch's size in millimetres.
[[nodiscard]] std::string sketch_svg(const rules::Sketch& sketch, const model::Words& words);

} // namespace crossarm::bundle
