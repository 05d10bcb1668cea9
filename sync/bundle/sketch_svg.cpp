#include "sync/bundle/sketch_svg.hpp"

#include "checklist/model/canonical.hpp"
#include "sync/bundle/html.hpp"
#include "sync/bundle/utf8.hpp"

namespace crossarm::bundle {

namespace {

std::string attribute(const char* name, double value) {
    return std::string(" ") + name + "=\"" + model::canonical_number(value) + "\"";
}

} // namespace

std::string sketch_svg(const rules::Sketch& sketch, const model::Words& words) {
    const std::string width = model::canonical_number(sketch.width_mm);
    const std::string height = model::canonical_number(sketch.height_mm);
    std::string out = "<svg role=\"img\" class=\"sketch\" width=\"" + width + "mm\" height=\"" + height +
                      "mm\" viewBox=\"0 0 " + width + " " + height + "\"><g fill=\"none\" stroke=\"#000\"" +
                      attribute("stroke-width", 0.4) + " stroke-linecap=\"round\">\n";
    for (const rules::SketchLine& line : sketch.lines) {
        out += "<line" + attribute("x1", line.x1) + attribute("y1", line.y1) + attribute("x2", line.x2) +
               attribute("y2", line.y2) + "/>";
    }
    for (const rules::SketchCircle& circle : sketch.circles) {
        out += "<circle" + attribute("cx", circle.x) + attribute("cy", circle.y) +
               attribute("r", circle.radius) + "/>";
    }
    out += "</g>\n<g fill=\"#000\"" + attribute("font-size", sketch.letter_mm) + ">\n";
    for (const rules::SketchText& text : sketch.texts) {
        out += "<text" + attribute("x", text.x) + attribute("y", text.y) +
               (text.strong ? " font-weight=\"bold\"" : "") + ">" + escaped(printable(words.say(text.says))) +
               "</text>\n";
    }
    return out + "</g></svg>\n";
}

} // namespace crossarm::bundle
