// How a verdict was worked out: every named value, the source, the cautions.
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

namespace crossarm::ui {

namespace {

void draw_verdict_whole(Touch& touch, const View& view, const Place& place) {
    const model::Checkpoint& checkpoint = *view.protocol().checkpoint(place.checkpoint);
    heading(touch, checkpoint.title);
    const ScrollArea area(touch, "area");
    const visit::Assessed* assessed = assessed_at(view, place.checkpoint);
    const auto* verdict = assessed == nullptr ? nullptr : std::get_if<model::Verdict>(&assessed->outcome);
    if (verdict == nullptr) {
        text(touch, touch.say("verdict.not_now"));
        return;
    }
    mark_line(touch, mark_of(verdict->grade));
    text(touch, view.words.say(verdict->because));
    std::string workings;
    for (const model::Working& one : verdict->workings) {
        workings += (workings.empty() ? "" : "\n") + view.words.say(one.name) + ": " +
                    model::for_people(one.value, 3) + (one.how.empty() ? "" : " = " + one.how);
    }
    text(touch, workings);
    text(touch,
         say(view, "verdict.source",
             {{"title", verdict->source.title},
              {"clause", verdict->source.clause},
              {"sure", verdict->source.sure}}),
         {.role = Role::QuietWords});
    for (const model::Phrase& caution : verdict->cautions) {
        text(touch, say(view, "checkpoint.caution", {{"caution", view.words.say(caution)}}),
             {.weight = Weight::Bold, .role = Role::Warning});
    }
    text(touch, touch.say("verdict.local_rules"), {.role = Role::QuietWords});
}

} // namespace

void draw_workings(Touch& touch, const View& view, const Place& place, Wishes& wishes) {
    const Scope scope(touch, "workings");
    draw_band(touch, view, wishes);
    divide(touch, [&] { draw_back(touch, wishes); }, [&] { draw_verdict_whole(touch, view, place); });
}

} // namespace crossarm::ui
