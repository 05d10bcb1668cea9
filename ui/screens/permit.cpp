// The permit: where are we, what is next, what is missing.
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/permit_form.hpp"
#include "ui/screens/permit_step.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>

namespace crossarm::ui {

namespace {

namespace permit = visit::permit;

void go_to_step(const View& view, const std::string& step, Wishes& wishes) {
    wishes.push_back(GoTo{{Screen::Permit, view.at_hand->structure->id, step, ""}});
}

void go_to_form(const View& view, const std::string& step, const FormOf& form, Wishes& wishes) {
    wishes.push_back(GoTo{{Screen::Permit, view.at_hand->structure->id, step, to_text(form)}});
}

const permit::Step* next_step(const PermitView& permit) {
    const auto next = std::ranges::find(permit.steps, false, &permit::Step::done);
    return next == permit.steps.end() ? nullptr : &*next;
}

// What must be read before anything else is done.
void draw_warnings(Touch& touch, const View& view) {
    const PermitView& permit = view.at_hand->permit;
    const auto warn = [&touch](const std::string& words) {
        text(touch, words, {.weight = Weight::Bold, .role = Role::Warning});
    };
    if (permit.state.irregular > 0) {
        warn(say(view, "permit.irregular", {{"count", std::to_string(permit.state.irregular)}}));
    }
    for (const model::Phrase& fact : permit.time_facts) {
        warn(say_reason(view, fact));
    }
    for (const std::string& party : permit.stale) {
        warn(say(view, "permit.stale", {{"party", party}}));
    }
}

void draw_step_row(Touch& touch, const View& view, const permit::Step& step, bool next, Wishes& wishes) {
    const std::string value = touch.say(step.done ? "permit.done" : next ? "permit.next" : "permit.not_yet");
    const std::string second = step.missing ? say_reason(view, step.missing->why) : std::string();
    const std::string title = step_title(view, step.id);
    if (row(touch, step.id, {.title = title, .second = second, .value = value})) {
        go_to_step(view, step.id, wishes);
    }
}

// Two lists, each short enough to be read whole: up to the work, and back to supply. The one that is in hand
// stands first.
void draw_steps(Touch& touch, const View& view, Wishes& wishes) {
    const Scope scope(touch, "step");
    const std::vector<permit::Step>& steps = view.at_hand->permit.steps;
    const auto half = std::ranges::find(steps, "people", &permit::Step::id);
    const auto next = std::ranges::find(steps, false, &permit::Step::done);
    const auto draw = [&](auto from, auto to, const char* title) {
        heading(touch, touch.say(title));
        for (auto step = from; step != to; ++step) {
            draw_step_row(touch, view, *step, step == next, wishes);
        }
    };
    const bool back = next >= half;
    if (back) {
        draw(half, steps.end(), "permit.to_supply");
    }
    draw(steps.begin(), half, "permit.to_work");
    if (!back) {
        draw(half, steps.end(), "permit.to_supply");
    }
}

void draw_parties(Touch& touch, const View& view, Wishes& wishes) {
    const Scope scope(touch, "party");
    for (const permit::Party& party : view.at_hand->permit.state.parties) {
        const std::string step = "party:" + party.id;
        const std::string facts = facts_at(view, step);
        if (row(touch, party.id, {.title = step_title(view, step), .second = facts})) {
            go_to_step(view, step, wishes);
        }
    }
}

void draw_overview(Touch& touch, const View& view, Wishes& wishes) {
    const permit::State& state = view.at_hand->permit.state;
    heading(touch, state.prepared ? say(view, "permit.title", {{"number", state.number}})
                                  : touch.say("permit.title_none"));
    draw_notice(touch, view, wishes);
    const ScrollArea area(touch, "area");
    draw_warnings(touch, view);
    draw_parties(touch, view, wishes);
    draw_steps(touch, view, wishes);
    if (row(touch, "briefing", {.title = touch.say("briefing.title")})) {
        wishes.push_back(GoTo{{Screen::Briefing, view.at_hand->structure->id, "", ""}});
    }
    if (state.prepared && row(touch, "lead", {.title = step_title(view, "lead")})) {
        go_to_step(view, "lead", wishes);
    }
    if (state.prepared && button(touch, "print", touch.say("permit.print"))) {
        wishes.push_back(WritePermit{});
    }
    text(touch, touch.say("structure.caution"), {.role = Role::Warning});
}

void draw_main_act(Touch& touch, const View& view, const std::string& here, Wishes& wishes) {
    const permit::Step* next = next_step(view.at_hand->permit);
    if (next == nullptr || next->id == here) {
        return;
    }
    const std::string title = step_title(view, next->id);
    if (button(touch, "next", touch.say("permit.next_act"), {.emphasis = Emphasis::Main, .second = title})) {
        go_to_step(view, next->id, wishes);
    }
}

void draw_step(Touch& touch, const View& view, const std::string& step, Wishes& wishes) {
    heading(touch, step_title(view, step));
    draw_notice(touch, view, wishes);
    const ScrollArea area(touch, "area");
    const Scope scope(touch, "do");
    const auto& steps = view.at_hand->permit.steps;
    const auto at = std::ranges::find(steps, step, &permit::Step::id);
    if (at != steps.end() && at->missing) {
        text(touch, say_reason(view, at->missing->why), {.weight = Weight::Bold});
        if (!at->missing->step.empty() && at->missing->step != step &&
            button(touch, "take_me",
                   say(view, "notice.take_me", {{"title", step_title(view, at->missing->step)}}))) {
            go_to_step(view, at->missing->step, wishes);
        }
    }
    const bool open = at == steps.end() || !at->done;
    const std::vector<FormOf> forms = forms_at(view, step);
    if (forms.empty()) {
        text(touch, touch.say("permit.nothing_here"), {.role = Role::QuietWords});
    }
    for (const FormOf& form : forms) {
        if (button(touch, to_text(form), title_of(view, form),
                   {.emphasis = &form == &forms.front() && open ? Emphasis::Main : Emphasis::Plain})) {
            go_to_form(view, step, form, wishes);
        }
    }
    if (at != steps.end()) {
        text(touch, view.words.say("permit_help." + step));
        text(touch, view.words.say("permit_caution." + step),
             {.weight = Weight::Bold, .role = Role::Warning});
    }
    if (const std::string facts = facts_at(view, step); !facts.empty()) {
        heading(touch, touch.say("permit.recorded"));
        text(touch, facts);
    }
}

} // namespace

void draw_permit(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const Scope scope(touch, "permit");
    draw_band(touch, view, wishes);
    const auto acts = [&] {
        if (place.checkpoint.empty()) {
            draw_main_act(touch, view, place.part, wishes);
        }
        draw_back_and_holder(touch, view, wishes);
    };
    const auto content = [&] {
        if (!place.checkpoint.empty()) {
            draw_permit_form(touch, view, form_of(place.checkpoint), drafts.form, wishes);
        } else if (!place.part.empty()) {
            draw_step(touch, view, place.part, wishes);
        } else {
            draw_overview(touch, view, wishes);
        }
    };
    divide(touch, acts, content);
}

} // namespace crossarm::ui
