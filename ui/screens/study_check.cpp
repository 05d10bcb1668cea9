// One check of an uprating study: how it ended, what would mend it, its workings and its source.
#include "ui/screens/frame.hpp"
#include "ui/screens/study_screens.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

namespace crossarm::ui {

namespace {

void draw_verdict(Touch& touch, const model::Verdict& verdict) {
    const model::Words& words = touch.words();
    text(touch, words.say(verdict.because));
    if (!verdict.action.key.empty()) {
        text(touch, say(touch, "study.mend", {{"action", words.say(verdict.action)}}),
             {.weight = Weight::Bold});
    }
    touch.skip(touch.sizes().mm(2));
    for (const model::Working& working : verdict.workings) {
        text(touch, say(touch, working.how.empty() ? "office.working" : "office.working_how",
                        {{"name", words.say(working.name)}, {"value", working.value}, {"how", working.how}}));
    }
    text(touch,
         say(touch, "office.source",
             {{"title", verdict.source.title},
              {"clause", verdict.source.clause},
              {"sure", verdict.source.sure}}),
         {.role = Role::QuietWords});
    for (const model::Phrase& caution : verdict.cautions) {
        text(touch, say(touch, "office.caution", {{"caution", words.say(caution)}}),
             {.weight = Weight::Bold, .role = Role::Warning});
    }
}

} // namespace

void draw_study_check(Touch& touch, const StudyOne& one, const rules::StudyCheck& check, NextPlace& next) {
    const Scope scope(touch, "check");
    divide(
        touch,
        [&] {
            if (button(touch, "back", touch.say("button.back"))) {
                next = StudyPlace{StudyScreen::One, one.structure, ""};
            }
        },
        [&] {
            heading(touch, one.structure + "  " + touch.say("uprating.check." + check.name));
            const ScrollArea area(touch, "area");
            const CheckEnd end = end_of(touch, check.outcome);
            mark_line(touch, end.mark, end.word);
            if (const auto* none = std::get_if<model::NoVerdict>(&check.outcome)) {
                text(touch, touch.words().say(none->why));
                return;
            }
            draw_verdict(touch, std::get<model::Verdict>(check.outcome));
        });
}

} // namespace crossarm::ui
