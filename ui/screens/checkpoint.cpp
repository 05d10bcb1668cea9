// One checkpoint: how to look, what was found before, the input, and what it means.
#include "ui/screens/checkpoint_inputs.hpp"
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
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
}

void draw_earlier(Touch& touch, const View& view, const model::Checkpoint& checkpoint) {
    const Scope scope(touch, "earlier");
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
    if (const auto mark = mark_at(view, checkpoint.id); mark && assessed_at(view, checkpoint.id) == nullptr) {
        mark_line(touch, *mark);
    }
    const std::string value = value_text(view, &checkpoint, answer->finding.value);
    text(touch,
         say(view, "checkpoint.stands",
             {{"value", value}, {"name", view.name_of(answer->by)}, {"at", model::for_people(answer->at)}}),
         {.weight = Weight::Bold});
    if (!answer->finding.insisted.empty()) {
        text(touch, say(view, "checkpoint.insisted", {{"reason", answer->finding.insisted}}));
    }
    const auto again = std::ranges::find_if(view.at_hand->missing, [&](const visit::Missing& one) {
        return one.checkpoint == checkpoint.id && one.why.key != "missing.stops";
    });
    if (again != view.at_hand->missing.end()) {
        text(touch, view.words.say(again->why), {.weight = Weight::Bold, .role = Role::Warning});
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

// What stands, what it means, and the way to record it anew.
void draw_settled(Touch& touch, const View& view, const model::Checkpoint& checkpoint, Drafts& drafts,
                  Wishes& wishes) {
    draw_verdict(touch, view, checkpoint, wishes);
    draw_danger_way(touch, view, checkpoint, wishes);
    const auto* text_input = std::get_if<model::TextInput>(&checkpoint.input);
    if (text_input != nullptr && text_input->is_sample &&
        button(touch, "label", touch.say("checkpoint.write_label"), {.emphasis = Emphasis::Main})) {
        wishes.push_back(WriteLabel{});
    }
    if (!view.at_hand->locks.contains(checkpoint.id) &&
        button(touch, "again", touch.say("checkpoint.record_again"))) {
        drafts.asking = Asking::Again;
    }
}

void draw_acts(Touch& touch, const View& view, const model::Checkpoint& checkpoint, Drafts& drafts,
               Wishes& wishes) {
    const bool answered = answer_at(view, checkpoint.id) != nullptr;
    const bool asks = drafts.asking == Asking::Again || (drafts.asking == Asking::Value && !answered);
    const bool may_answer = asks && !view.at_hand->locks.contains(checkpoint.id);
    const bool may_out = may_answer && checkpoint.may_be_out_of_reach;
    const bool may_not_fitted = may_answer && checkpoint.may_be_not_fitted;
    if (answered && button(touch, "go_on", touch.say("checkpoint.go_on"), {.emphasis = Emphasis::Main})) {
        wishes.push_back(GoOn{});
    }
    ActRow acts(touch, 1U + (may_out ? 1U : 0U) + (may_not_fitted ? 1U : 0U));
    draw_back(touch, wishes);
    if (may_out) {
        acts.next();
        if (button(touch, "out_of_reach", touch.say("checkpoint.out_of_reach"))) {
            drafts.asking = Asking::WhyOut;
        }
    }
    if (may_not_fitted) {
        acts.next();
        if (button(touch, "not_fitted", touch.say("mark.not_fitted"))) {
            wishes.push_back(
                Mean{visit::Record{{checkpoint.part, checkpoint.id, model::NotFitted{}, "", ""}}});
        }
    }
}

// Readings and texts need the width for their keys; grades and choices leave room beside them.
bool needs_width(const model::Checkpoint& checkpoint) {
    return !std::holds_alternative<model::GradeInput>(checkpoint.input) &&
           !std::holds_alternative<model::ChoiceInput>(checkpoint.input);
}

void draw_content(Touch& touch, const View& view, const model::Checkpoint& checkpoint, Drafts& drafts,
                  Wishes& wishes) {
    heading(touch, checkpoint.title);
    draw_notice(touch, view, wishes, checkpoint.id);
    const ScrollArea area(touch, "area");
    const bool answered = answer_at(view, checkpoint.id) != nullptr;
    const bool settled = answered && drafts.asking == Asking::Value;
    const auto lower = [&] {
        const Scope scope(touch, checkpoint.id);
        const auto lock = view.at_hand->locks.find(checkpoint.id);
        if (settled) {
            draw_settled(touch, view, checkpoint, drafts, wishes);
        } else if (lock != view.at_hand->locks.end()) {
            text(touch, view.words.say(lock->second.why), {.weight = Weight::Bold, .role = Role::Warning});
        } else {
            draw_input(touch, view, checkpoint, drafts, wishes);
        }
    };
    if (touch.portrait() || needs_width(checkpoint)) {
        if (settled) {
            draw_answer(touch, view, checkpoint);
            lower();
            draw_how(touch, view, checkpoint);
        } else {
            draw_how(touch, view, checkpoint);
            lower();
        }
        draw_earlier(touch, view, checkpoint);
        return;
    }
    Columns columns(touch, {2.0F, 3.0F});
    draw_how(touch, view, checkpoint);
    draw_earlier(touch, view, checkpoint);
    columns.next();
    if (settled) {
        draw_answer(touch, view, checkpoint);
    }
    lower();
}

} // namespace

void draw_checkpoint(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const Scope scope(touch, "checkpoint");
    draw_band(touch, view, wishes);
    const model::Checkpoint& checkpoint = *view.protocol().checkpoint(place.checkpoint);
    divide(
        touch, [&] { draw_acts(touch, view, checkpoint, drafts, wishes); },
        [&] { draw_content(touch, view, checkpoint, drafts, wishes); });
}

} // namespace crossarm::ui
