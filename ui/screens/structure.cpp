// One structure: before a visit its facts, in a visit the drawing (or list) of its parts and the stage.
#include "ui/drawing/structure_drawing.hpp"
#include "ui/screens/checkpoint_rows.hpp"
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/permit_step.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/keyboard.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>

namespace crossarm::ui {

namespace {

std::string plate_text(const View& view, const model::Structure& structure) {
    const model::Nameplate& plate = structure.plate;
    std::string out = say(view, "structure.plate",
                          {{"rating", model::Quantity{plate.rating_kVA, model::Unit::KilovoltAmpere}},
                           {"hv", model::Quantity{plate.hv_kV, model::Unit::Kilovolt}},
                           {"lv", model::Quantity{plate.lv_V, model::Unit::Volt}},
                           {"make", plate.make.empty() ? "?" : plate.make},
                           {"serial", plate.serial.empty() ? "?" : plate.serial}});
    out += "\n" + say(view, "structure.support",
                      {{"support", structure.support},
                       {"pole", structure.pole},
                       {"customers", std::to_string(structure.customers)},
                       {"critical", std::to_string(structure.critical_customers)}});
    if (plate.oil_litres) {
        out += "\n" +
               say(view, "structure.oil", {{"oil", model::Quantity{*plate.oil_litres, model::Unit::Litre}}});
    }
    return out;
}

// Before the visit: what the register knows, and the way in.
void draw_facts(Touch& touch, const View& view, const std::string& id, Wishes& wishes) {
    const model::Structure* structure = view.structure(id);
    heading(touch, structure->id + "  " + structure->name);
    draw_notice(touch, view, wishes);
    const ScrollArea area(touch, "facts");
    text(touch, structure->feeder);
    text(touch, plate_text(view, *structure));
    if (!structure->note.empty()) {
        text(touch, say(view, "structure.note", {{"note", structure->note}}), {.weight = Weight::Bold});
    }
    text(touch, touch.say("structure.caution"), {.role = Role::Warning});
}

void draw_unopened(Touch& touch, const View& view, const std::string& id, Wishes& wishes) {
    const auto acts = [&] {
        const std::string why = view.who.empty() ? touch.say("structure.take_first") : std::string();
        if (button(touch, "open", touch.say("structure.open"),
                   {.emphasis = Emphasis::Main, .why_disabled = why})) {
            wishes.push_back(Mean{visit::OpenVisit{id}});
        }
        draw_back_and_holder(touch, view, wishes);
    };
    divide(touch, acts, [&] { draw_facts(touch, view, id, wishes); });
}

Mark part_mark(const visit::PartStanding& part) {
    if (part.asked > 0 && part.not_fitted == part.asked) {
        return Mark::NotFitted;
    }
    if (part.worst && (*part.worst > model::Grade::Sound || part.may_show_sound())) {
        return mark_of(*part.worst);
    }
    return part.unseen > 0 || part.asked == 0 ? Mark::Unseen
           : part.out_of_reach > 0            ? Mark::OutOfReach
                                              : Mark::Unseen;
}

std::string part_word(const View& view, const visit::PartStanding& part) {
    std::string out = view.words.say(word_key(part_mark(part)));
    if (part.unseen > 0 && part_mark(part) != Mark::Unseen) {
        out += ", " + say(view, "structure.part_unseen", {{"count", std::to_string(part.unseen)}});
    }
    return out;
}

// A Danger that no lead has decided about: the way to the decision, whatever the stage.
void draw_undecided(Touch& touch, const View& view, Wishes& wishes) {
    const std::vector<std::string>& undecided = view.at_hand->undecided;
    if (undecided.empty() || view.at_hand->state.signature) {
        return;
    }
    const std::string second = view.protocol().checkpoint(undecided.front())->title;
    const std::string title = undecided.size() == 1 ? touch.say("structure.undecided_one")
                                                    : say(view, "structure.undecided",
                                                          {{"count", std::to_string(undecided.size())}});
    if (row(touch, "undecided", {.title = title, .second = second, .mark = Mark::Danger})) {
        wishes.push_back(GoTo{{Screen::Danger, view.at_hand->structure->id, "", undecided.front()}});
    }
}

// The briefing from its own stage on, the permit from its own to the end of Restore.
void draw_permit_way(Touch& touch, const View& view, const model::Stage& stage, Wishes& wishes) {
    const std::string& structure = view.at_hand->structure->id;
    if (stage.id == "brief" && row(touch, "briefing", {.title = touch.say("briefing.title")})) {
        wishes.push_back(GoTo{{Screen::Briefing, structure, "", ""}});
    }
    if (stage.id != "permit" && stage.id != "work" && stage.id != "restore") {
        return;
    }
    const auto& steps = view.at_hand->permit.steps;
    const auto next = std::ranges::find(steps, false, &visit::permit::Step::done);
    const std::string second = next == steps.end() ? std::string() : touch.say("permit.step." + next->id);
    if (row(touch, "permit", {.title = touch.say("permit.way"), .second = second})) {
        wishes.push_back(GoTo{{Screen::Permit, structure, "", ""}});
    }
}

// At the end of every view, so that it is never touched by the way.
void draw_way_out(Touch& touch, const View& view, Drafts& drafts) {
    if (view.at_hand->may_break_off && button(touch, "break_off", touch.say("structure.break_off"))) {
        drafts.break_off = true;
        drafts.text = {};
    }
}

void draw_parts_list(Touch& touch, const View& view, const model::Stage& stage, Drafts& drafts,
                     Wishes& wishes) {
    const ScrollArea list(touch, "parts");
    draw_undecided(touch, view, wishes);
    draw_permit_way(touch, view, stage, wishes);
    for (const model::Part& part : view.protocol().parts) {
        const visit::PartStanding& standing = view.at_hand->parts.at(part.id);
        const std::string word = part_word(view, standing);
        const std::string second = say(view, "structure.part_counts",
                                       {{"seen", std::to_string(standing.asked - standing.unseen)},
                                        {"asked", std::to_string(standing.asked)}});
        const RowText words{
            .title = part.title, .second = second, .mark = part_mark(standing), .mark_word = word};
        if (row(touch, part.id, words)) {
            wishes.push_back(GoTo{{Screen::Part, view.at_hand->structure->id, part.id, ""}});
        }
    }
    draw_way_out(touch, view, drafts);
}

void draw_parts(Touch& touch, const View& view, const model::Stage& stage, Drafts& drafts, Wishes& wishes) {
    std::vector<DrawnPart> parts;
    for (const model::Part& part : view.protocol().parts) {
        const visit::PartStanding& standing = view.at_hand->parts.at(part.id);
        parts.push_back({part.id, part.title, part_mark(standing), part_word(view, standing)});
    }
    const ScrollArea area(touch, "drawing");
    draw_undecided(touch, view, wishes);
    draw_permit_way(touch, view, stage, wishes);
    if (const auto touched = structure_drawing(touch, parts)) {
        wishes.push_back(GoTo{{Screen::Part, view.at_hand->structure->id, *touched, ""}});
    }
    draw_way_out(touch, view, drafts);
}

void draw_steps(Touch& touch, const View& view, const model::Stage& stage, Drafts& drafts, Wishes& wishes) {
    const ScrollArea list(touch, "steps");
    draw_undecided(touch, view, wishes);
    text(touch, stage.purpose, {.role = Role::QuietWords});
    draw_permit_way(touch, view, stage, wishes);
    for (const model::Checkpoint& checkpoint : view.protocol().checkpoints) {
        if (checkpoint.stage == stage.id &&
            visit::is_asked(checkpoint, *view.at_hand->structure, view.at_hand->state)) {
            checkpoint_row(touch, view, checkpoint, wishes);
        }
    }
    draw_way_out(touch, view, drafts);
}

void draw_main_act(Touch& touch, const View& view, const model::Stage& stage, Wishes& wishes) {
    const AtHand& at_hand = *view.at_hand;
    if (stage.id == "sign_off") {
        if (button(touch, "sign_off", touch.say("structure.to_sign_off"), {.emphasis = Emphasis::Main})) {
            wishes.push_back(GoTo{{Screen::SignOff, at_hand.structure->id, "", ""}});
        }
        return;
    }
    if (stage.id == "hand_over") {
        if (button(touch, "hand_over", touch.say("structure.to_hand_over"), {.emphasis = Emphasis::Main})) {
            wishes.push_back(GoTo{{Screen::HandOver, at_hand.structure->id, "", ""}});
        }
        return;
    }
    if (at_hand.missing.empty()) {
        if (button(touch, "finish", say(view, "structure.finish", {{"stage", stage.title}}),
                   {.emphasis = Emphasis::Main})) {
            wishes.push_back(Mean{visit::FinishStage{stage.id}});
        }
        return;
    }
    // Not ready: the main act is to go to the first thing that is missing.
    const visit::Missing& first = at_hand.missing.front();
    const std::string label = say(view, at_hand.missing.size() == 1 ? "structure.next_one" : "structure.next",
                                  {{"count", std::to_string(at_hand.missing.size())}});
    const model::Checkpoint* at = view.protocol().checkpoint(first.checkpoint);
    const std::string second = at != nullptr        ? at->title
                               : first.step.empty() ? view.words.say(first.why)
                                                    : step_title(view, first.step);
    if (button(touch, "next", label, {.emphasis = Emphasis::Main, .second = second})) {
        wishes.push_back(GoTo{at != nullptr
                                  ? Place{Screen::Checkpoint, at_hand.structure->id, "", first.checkpoint}
                                  : to_step(view, first.step)});
    }
}

void draw_break_off(Touch& touch, const View& view, Drafts& drafts, Wishes& wishes) {
    const auto acts = [&] {
        if (button(touch, "keep_on", touch.say("structure.keep_on"))) {
            drafts.break_off = false;
        }
    };
    const auto content = [&] {
        heading(touch, touch.say("structure.break_off"));
        draw_notice(touch, view, wishes);
        const ScrollArea area(touch, "break_off");
        text(touch, touch.say("structure.break_off_how"));
        drafts.text.title = touch.say("structure.break_off_why");
        if (keyboard(touch, "reason", drafts.text)) {
            wishes.push_back(Mean{visit::BreakOff{drafts.text.text}});
        }
    };
    divide(touch, acts, content);
}

// The work is found on the drawing; every other stage is a list of steps.
bool has_steps(const model::Stage& stage) {
    return stage.id != "work" && stage.id != "sign_off" && stage.id != "hand_over";
}

void draw_acts(Touch& touch, const View& view, const model::Stage& stage, Drafts& drafts, Wishes& wishes) {
    const visit::State& state = view.at_hand->state;
    const bool steps = has_steps(stage);
    draw_main_act(touch, view, stage, wishes);
    ActRow acts(touch, state.signature ? 2 : 4);
    draw_back(touch, wishes);
    acts.next();
    const char* other_view = steps != drafts.list_view ? "structure.as_drawing"
                             : steps                   ? "structure.as_steps"
                                                       : "structure.as_list";
    if (button(touch, "view", touch.say(other_view))) {
        drafts.list_view = !drafts.list_view;
    }
    if (state.signature) {
        return;
    }
    acts.next();
    draw_holder(touch, view, wishes);
    acts.next();
    const std::string why = state.undoable.empty() ? touch.say("refused.nothing_to_undo") : std::string();
    if (button(touch, "undo", touch.say("structure.undo"), {.why_disabled = why})) {
        wishes.push_back(Mean{visit::UndoLast{}});
    }
}

void draw_visit(Touch& touch, const View& view, const model::Stage& stage, Drafts& drafts, Wishes& wishes) {
    const bool steps = has_steps(stage);
    draw_visit_head(touch, view);
    draw_notice(touch, view, wishes);
    if (steps && !drafts.list_view) {
        draw_steps(touch, view, stage, drafts, wishes);
    } else if (drafts.list_view && !steps) {
        draw_parts_list(touch, view, stage, drafts, wishes);
    } else {
        draw_parts(touch, view, stage, drafts, wishes);
    }
}

} // namespace

void draw_structure(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const Scope scope(touch, "structure");
    draw_band(touch, view, wishes);
    if (!view.at_hand) {
        draw_unopened(touch, view, place.structure, wishes);
        return;
    }
    if (drafts.break_off) {
        draw_break_off(touch, view, drafts, wishes);
        return;
    }
    const std::size_t last = view.protocol().stages.size() - 1;
    const model::Stage& stage = view.protocol().stages[std::min(view.at_hand->stage, last)];
    divide(
        touch, [&] { draw_acts(touch, view, stage, drafts, wishes); },
        [&] { draw_visit(touch, view, stage, drafts, wishes); });
}

} // namespace crossarm::ui
