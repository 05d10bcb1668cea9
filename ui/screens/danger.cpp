// A Danger that the lead decides about.
#include "ui/screens/chrome.hpp"
#include "ui/screens/confirm_fields.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <utility>

namespace crossarm::ui {

namespace {

std::vector<FormField> decision_fields(const View& view) {
    FormField decision;
    decision.name = "decision";
    decision.ask = Ask::Choice;
    decision.question = view.words.say("danger.decision");
    for (const char* one : {"put_right", "supply_stays_off", "may_return"}) {
        decision.options.push_back({one, view.words.say(std::string("danger.") + one)});
    }
    FormField reason;
    reason.name = "reason";
    reason.question = view.words.say("danger.reason");
    return {std::move(decision), std::move(reason), pin_field(view, view.who)};
}

// Why this person cannot decide here, as decide() would say it; a key, empty when they can.
const char* why_not(const View& view, const visit::Answer& answer) {
    const model::Person* person = view.reg.person(view.who);
    return person == nullptr || !person->is("lead") ? "refused.lead_only"
           : answer.by == view.who                  ? "refused.own_finding"
                                                    : "";
}

void draw_confirmation(Touch& touch, const View& view, const Place& place, FormDraft& draft, Wishes& wishes) {
    if (!view.pin_notice.empty()) {
        text(touch, view.pin_notice, {.weight = Weight::Bold, .role = Role::Warning});
    }
    if (draw_form(touch, "form", decision_fields(view), draft,
                  {.label = touch.say("danger.confirm"), .consequence = touch.say("danger.consequence")})) {
        wishes.push_back(MeanWithPins{
            visit::DecideDanger{place.checkpoint, draft.answer("decision"), draft.answer("reason")},
            draft.hand_over_pins()});
    }
}

void draw_decision(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const model::Checkpoint& checkpoint = *view.protocol().checkpoint(place.checkpoint);
    heading(touch, checkpoint.title);
    draw_notice(touch, view, wishes, place.checkpoint);
    if (std::exchange(drafts.form.moved_on, false)) {
        scroll_to_top(touch, "area");
    }
    const ScrollArea area(touch, "area");
    const visit::Answer* answer = answer_at(view, place.checkpoint);
    if (answer == nullptr) {
        text(touch, touch.say("danger.gone"));
        return;
    }
    mark_line(touch, Mark::Danger);
    const bool only_pin_left = drafts.form.answers.contains("reason");
    if (!only_pin_left) {
        text(touch, say(view, "checkpoint.stands",
                        {{"value", value_text(view, &checkpoint, answer->finding.value)},
                         {"name", view.name_of(answer->by)},
                         {"at", model::for_people(answer->at)}}));
    }
    if (const std::string why = why_not(view, *answer); !why.empty()) {
        text(touch, touch.say(why), {.weight = Weight::Bold, .role = Role::Warning});
        return;
    }
    if (!only_pin_left) { // the PIN pad gets the room
        text(touch, say(view, "danger.how", {{"name", view.name_of(view.who)}}), {.role = Role::QuietWords});
    }
    draw_confirmation(touch, view, place, drafts.form, wishes);
}

} // namespace

void draw_danger(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const Scope scope(touch, "danger");
    draw_band(touch, view, wishes);
    const auto acts = [&] { draw_back_and_holder(touch, view, wishes); };
    divide(touch, acts, [&] { draw_decision(touch, view, place, drafts, wishes); });
}

} // namespace crossarm::ui
