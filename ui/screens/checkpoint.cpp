// One checkpoint: how to look, what was found before, the input, and what it means.
#include "ui/screens/checkpoint_inputs.hpp"
#include "ui/screens/chrome.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>

namespace crossarm::ui {

namespace {

void draw_how(Touch& touch, const View& view, const model::Checkpoint& checkpoint) {
    const Scope scope(touch, "how");
    text(touch, checkpoint.how);
    for (const std::string& caution : checkpoint.cautions) {
        text(touch, say(view, "checkpoint.caution", {{"caution", caution}}),
             {.weight = Weight::Bold, .role = Role::Warning});
    }
    const auto earlier = view.reg.earlier_of(view.at_hand->structure->id, checkpoint.id);
    const std::size_t from = earlier.size() > 3 ? earlier.size() - 3 : 0;
    std::string before;
    for (std::size_t i = earlier.size(); i > from; --i) {
        before += (before.empty() ? "" : "\n") +
                  say(view, "checkpoint.earlier",
                      {{"date", model::for_people(earlier[i - 1].on)},
                       {"value", value_text(view, &checkpoint, earlier[i - 1].value)}});
    }
    if (!before.empty()) {
        text(touch, before, {.role = Role::QuietWords});
    }
}

void draw_answer(Touch& touch, const View& view, const model::Checkpoint& checkpoint) {
    const visit::Answer* answer = answer_at(view, checkpoint.id);
    const Scope scope(touch, "answer");
    if (answer == nullptr) {
        mark_line(touch, Mark::Unseen);
        return;
    }
    const std::string value = value_text(view, &checkpoint, answer->finding.value);
    text(touch,
         say(view, "checkpoint.stands",
             {{"value", value}, {"name", view.name_of(answer->by)}, {"at", model::for_people(answer->at)}}),
         {.weight = Weight::Bold});
    if (!answer->finding.insisted.empty()) {
        text(touch, say(view, "checkpoint.insisted", {{"reason", answer->finding.insisted}}));
    }
    const model::Option* option = visit::picked_option(checkpoint, *answer);
    if (option != nullptr && !option->stops.empty()) {
        text(touch, say(view, "checkpoint.stops", {{"why", option->stops}}),
             {.weight = Weight::Bold, .role = Role::Warning});
    }
}

void draw_verdict(Touch& touch, const View& view, const model::Checkpoint& checkpoint, Wishes& wishes) {
    const visit::Assessed* assessed = assessed_at(view, checkpoint.id);
    if (assessed == nullptr) {
        return;
    }
    const Scope scope(touch, "verdict");
    if (const auto* none = std::get_if<model::NoVerdict>(&assessed->outcome)) {
        text(touch, say(view, "verdict.none", {{"why", view.words.say(none->why)}}),
             {.weight = Weight::Bold, .role = Role::Warning});
        return;
    }
    const auto& verdict = std::get<model::Verdict>(assessed->outcome);
    mark_line(touch, mark_of(verdict.grade));
    text(touch, view.words.say(verdict.because));
    if (!verdict.action.key.empty()) {
        const std::string when = verdict.when ? view.words.say(*verdict.when) : "";
        text(touch, view.words.say(verdict.action) + (when.empty() ? "" : "\n" + when),
             {.weight = Weight::Bold});
    }
    if (button(touch, "workings", touch.say("verdict.workings"))) {
        wishes.push_back(GoTo{{Screen::Workings, view.at_hand->structure->id, "", checkpoint.id}});
    }
}

void draw_danger_way(Touch& touch, const View& view, const model::Checkpoint& checkpoint, Wishes& wishes) {
    const auto& undecided = view.at_hand->undecided;
    if (std::ranges::find(undecided, checkpoint.id) != undecided.end() &&
        button(touch, "decide", touch.say("checkpoint.decide"))) {
        wishes.push_back(GoTo{{Screen::Danger, view.at_hand->structure->id, "", checkpoint.id}});
    }
}

void draw_acts(Touch& touch, const View& view, const model::Checkpoint& checkpoint, Drafts& drafts,
               Wishes& wishes) {
    const bool is_open = drafts.asking == Asking::Value;
    const bool locked = view.at_hand->locks.contains(checkpoint.id);
    const bool may_out = is_open && !locked && checkpoint.may_be_out_of_reach;
    const bool may_not_fitted = is_open && !locked && checkpoint.may_be_not_fitted;
    const bool answered = answer_at(view, checkpoint.id) != nullptr;
    const std::size_t keys = 1 + (may_out ? 1U : 0U) + (may_not_fitted ? 1U : 0U) + (answered ? 1U : 0U);
    Columns columns(touch, keys);
    draw_back(touch, wishes);
    if (may_out) {
        columns.next();
        if (button(touch, "out_of_reach", touch.say("checkpoint.out_of_reach"))) {
            drafts.asking = Asking::WhyOut;
        }
    }
    if (may_not_fitted) {
        columns.next();
        if (button(touch, "not_fitted", touch.say("mark.not_fitted"))) {
            wishes.push_back(
                Mean{visit::Record{{checkpoint.part, checkpoint.id, model::NotFitted{}, "", ""}}});
        }
    }
    if (answered) {
        columns.next();
        if (button(touch, "go_on", touch.say("checkpoint.go_on"), {.emphasis = Emphasis::Main})) {
            wishes.push_back(GoOn{});
        }
    }
}

} // namespace

void draw_checkpoint(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const Scope scope(touch, "checkpoint");
    draw_band(touch, view);
    const Inset inset(touch);
    const model::Checkpoint& checkpoint = *view.protocol.checkpoint(place.checkpoint);
    {
        const BottomBar bar(touch, "bar");
        draw_acts(touch, view, checkpoint, drafts, wishes);
    }
    heading(touch, checkpoint.title);
    draw_notice(touch, view, wishes, checkpoint.id);
    const ScrollArea area(touch, "area");
    const auto draw_right = [&] {
        const Scope input(touch, checkpoint.id);
        if (const auto lock = view.at_hand->locks.find(checkpoint.id); lock != view.at_hand->locks.end()) {
            text(touch, view.words.say(lock->second.why), {.weight = Weight::Bold, .role = Role::Warning});
            return;
        }
        draw_input(touch, view, checkpoint, drafts, wishes);
    };
    if (touch.portrait()) {
        draw_how(touch, view, checkpoint);
        draw_answer(touch, view, checkpoint);
        draw_verdict(touch, view, checkpoint, wishes);
        draw_danger_way(touch, view, checkpoint, wishes);
        draw_right();
        return;
    }
    Columns columns(touch, {2.0F, 3.0F});
    draw_how(touch, view, checkpoint);
    draw_answer(touch, view, checkpoint);
    draw_verdict(touch, view, checkpoint, wishes);
    draw_danger_way(touch, view, checkpoint, wishes);
    columns.next();
    draw_right();
}

} // namespace crossarm::ui
