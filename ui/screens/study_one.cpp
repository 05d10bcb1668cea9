// The uprating study of one structure: what is proposed and every check; and the other ways to serve it.
#include "ui/screens/frame.hpp"
#include "ui/screens/study_screens.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>

namespace crossarm::ui {

namespace {

using model::Quantity;
using model::Unit;

// To a tenth, as the printed study has it.
std::string in_kVA(double value) {
    return for_people(Quantity{value, Unit::KilovoltAmpere}, 1);
}

const rules::Alternative* way(const StudyOne& one, std::string_view kind) {
    const auto& all = one.study.alternatives;
    const auto found = std::ranges::find(all, kind, &rules::Alternative::kind);
    return found == all.end() ? nullptr : &*found;
}

void draw_headroom(Touch& touch, const StudyOne& one) {
    const rules::Alternative* present = way(one, "present");
    const rules::Alternative* chosen = way(one, "chosen");
    const auto line = [&](const char* key, const rules::Alternative& at) {
        text(touch,
             say(touch, key,
                 {{"now", in_kVA(at.headroom_now_kVA)}, {"horizon", in_kVA(at.headroom_horizon_kVA)}}));
    };
    if (present != nullptr) {
        line("study_screen.headroom_present", *present);
    }
    if (chosen != nullptr) {
        line("study_screen.headroom_proposed", *chosen);
    }
}

void draw_one_acts(Touch& touch, const StudyOne& one, NextPlace& next) {
    ActRow acts(touch, 3);
    if (button(touch, "back", touch.say("button.back"))) {
        next = StudyPlace{};
    }
    acts.next();
    if (button(touch, "ways", touch.say("study.section.alternatives"))) {
        next = StudyPlace{StudyScreen::Ways, one.structure, ""};
    }
    acts.next();
    if (button(touch, "sketch", touch.say("study_screen.sketch"))) {
        next = StudyPlace{StudyScreen::SketchPresent, one.structure, ""};
    }
}

std::string cost_text(const Touch& touch, const rules::Alternative& at) {
    const auto number = [](double value) { return model::number_for_people(value, 0); };
    std::string out;
    if (at.cost) {
        out += "\n" + say(touch, at.losses_usual ? "study_screen.losses_usual" : "study_screen.losses",
                          {{"year", number(at.cost->first_year_kWh)}, {"life", number(at.cost->all_kWh)}});
    }
    if (at.price) {
        out += "\n" + say(touch, "study_screen.price", {{"price", number(*at.price)}});
    }
    if (at.cost && at.cost->all_now) {
        out += "\n" + say(touch, "study_screen.worth", {{"worth", number(*at.cost->all_now)}});
    }
    return out;
}

void draw_way(Touch& touch, const rules::Alternative& at) {
    text(touch,
         say(touch, "study_screen.way",
             {{"way", touch.say("study.way." + at.kind)},
              {"rating", Quantity{at.rating_kVA, Unit::KilovoltAmpere}}}),
         {.weight = Weight::Bold});
    text(touch,
         touch.say(at.serves ? "study_screen.serves" : "study_screen.serves_not") + "\n" +
             say(touch, "study_screen.headroom",
                 {{"now", in_kVA(at.headroom_now_kVA)}, {"horizon", in_kVA(at.headroom_horizon_kVA)}}) +
             cost_text(touch, at));
    touch.skip(touch.sizes().gap());
}

} // namespace

void draw_study_one(Touch& touch, const StudyOne& one, NextPlace& next) {
    const Scope scope(touch, "one");
    divide(
        touch, [&] { draw_one_acts(touch, one, next); },
        [&] {
            heading(touch, one.structure + "  " + one.name);
            const ScrollArea area(touch, "area");
            for (const std::string& line : one.summary) {
                text(touch, line);
            }
            draw_headroom(touch, one);
            touch.skip(touch.sizes().gap());
            heading(touch, touch.say("study.section.checks"));
            for (const rules::StudyCheck& check : one.study.checks) {
                const CheckEnd end = end_of(touch, check.outcome);
                const std::string title = touch.say("uprating.check." + check.name);
                if (row(touch, check.name, {.title = title, .mark = end.mark, .mark_word = end.word})) {
                    next = StudyPlace{StudyScreen::Check, one.structure, check.name};
                }
            }
        });
}

void draw_study_ways(Touch& touch, const StudyOne& one, NextPlace& next) {
    const Scope scope(touch, "ways");
    divide(
        touch,
        [&] {
            if (button(touch, "back", touch.say("button.back"))) {
                next = StudyPlace{StudyScreen::One, one.structure, ""};
            }
        },
        [&] {
            heading(touch, one.structure + "  " + touch.say("study.section.alternatives"));
            const ScrollArea area(touch, "area");
            for (const rules::Alternative& at : one.study.alternatives) {
                draw_way(touch, at);
            }
            if (one.study.alternatives.empty()) {
                text(touch, touch.say("study_screen.no_ways"));
            }
        });
}

} // namespace crossarm::ui
