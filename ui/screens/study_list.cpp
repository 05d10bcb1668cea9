// The uprating study of every structure, the most urgent first.
#include "ui/screens/study_screens.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>

namespace crossarm::ui {

namespace {

constexpr std::size_t kMostRows = 500; // nobody scrolls further, and every row is laid out in every frame

std::string ratings(const Touch& touch, const StudyLine& line) {
    const model::Quantity present{line.present_kVA, model::Unit::KilovoltAmpere};
    if (!line.proposed_kVA) {
        return say(touch, "study_screen.nothing_proposed", {{"present", present}});
    }
    if (!line.uprate) {
        return say(touch, "study_screen.stays", {{"present", present}});
    }
    return say(touch, "study_screen.from_to",
               {{"present", present},
                {"proposed", model::Quantity{*line.proposed_kVA, model::Unit::KilovoltAmpere}}});
}

std::string urgency(const Touch& touch, const rules::Urgency& urgency) {
    if (!urgency.known) {
        return touch.say("study_screen.no_load");
    }
    if (!urgency.years_left) {
        return touch.say("study_screen.never_full");
    }
    if (*urgency.years_left > 0.0) {
        return say(touch, "study.years_left",
                   {{"years", model::Quantity{*urgency.years_left, model::Unit::Year}}});
    }
    return touch.say("study.full");
}

} // namespace

void draw_study_list(Touch& touch, const StudyView& view, NextPlace& next) {
    const Scope scope(touch, "list");
    const Inset inset(touch);
    heading(touch, touch.say("study_screen.title"));
    text(touch,
         say(touch, "study_screen.count",
             {{"count", std::to_string(view.lines.size())},
              {"years", model::Quantity{static_cast<double>(view.years), model::Unit::Year}}}),
         {.role = Role::QuietWords});
    const ScrollArea area(touch, "area");
    for (std::size_t i = 0; i < std::min(kMostRows, view.lines.size()); ++i) {
        const StudyLine& line = view.lines[i];
        const CheckEnd end = end_of(touch, line.worst);
        const std::string title = line.structure + "  " + line.name;
        const std::string second =
            line.feeder + "\n" + ratings(touch, line) + "\n" + urgency(touch, line.urgency);
        if (row(touch, line.structure,
                {.title = title, .second = second, .mark = end.mark, .mark_word = end.word})) {
            next = StudyPlace{StudyScreen::One, line.structure, ""};
        }
    }
    if (view.lines.size() > kMostRows) {
        text(touch, say(touch, "study_screen.first_only", {{"count", std::to_string(kMostRows)}}));
    }
}

} // namespace crossarm::ui
