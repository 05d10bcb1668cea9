// The single-line sketch of a substation: HV fuse, transformer, cable, breakers and earth with their values,
// as lines, circles and texts in millimetres.
#pragma once

#include "checklist/rules/uprating_study.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::rules {

struct SketchLine {
    double x1 = 0.0;
    double y1 = 0.0;
    double x2 = 0.0;
    double y2 = 0.0;
};
struct SketchCircle {
    double x = 0.0;
    double y = 0.0;
    double radius = 0.0;
};
struct SketchText {
    double x = 0.0; ///< of its left end
    double y = 0.0; ///< of its base line
    bool strong = false;
    model::Phrase says;
};

/// From the top left corner; everything lies within width and height.
struct Sketch {
    double width_mm = 0.0;
    double height_mm = 0.0;
    double letter_mm = 0.0; ///< height of the texts' font
    std::vector<SketchLine> lines;
    std::vector<SketchCircle> circles;
    std::vector<SketchText> texts;
};

/// What is drawn. What is empty is drawn and said to be not known.
struct SketchFacts {
    model::Phrase title;
    double rating_kVA = 0.0;
    double hv_kV = 0.0;
    double lv_V = 0.0;
    std::string vector_group;
    std::optional<double> impedance_percent;
    std::string link; ///< "25 K"
    std::optional<double> hv_lead_mm2;
    std::optional<double> fault_kA; ///< at the LV terminals
    std::optional<Cable> cable;
    std::string cable_metal;
    std::optional<double> cable_m;
    std::optional<Breakers> breakers;
    std::optional<double> earth_mm2;
    std::string earth_metal;
    std::optional<double> electrode_ohm;
    std::optional<double> now_kVA;
    std::optional<double> horizon_kVA;
};

/// As it is now, and as the study proposes it.
[[nodiscard]] SketchFacts present_sketch(const StudyFacts& facts, const Study& study);
[[nodiscard]] SketchFacts proposed_sketch(const StudyFacts& facts, const Study& study);

/// Pure: the same facts give the same drawing. 86 mm wide, so that two stand side by side on A4. At most six
/// breakers are drawn; their number is said as well.
[[nodiscard]] Sketch sketch(const SketchFacts& facts);

} // namespace crossarm::rules
