// Sign-off: what is missing, what was found, and the lead's hold.
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/hold_button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>

namespace crossarm::ui {

namespace {

void draw_dangers(Touch& touch, const View& view, Wishes& wishes) {
    const Scope scope(touch, "dangers");
    const AtHand& at_hand = *view.at_hand;
    for (const model::Checkpoint& checkpoint : view.protocol.checkpoints) {
        const bool open = std::ranges::find(at_hand.undecided, checkpoint.id) != at_hand.undecided.end();
        const auto decided =
            std::ranges::find(at_hand.state.decisions, checkpoint.id, &visit::Decision::checkpoint);
        if (!open && decided == at_hand.state.decisions.end()) {
            continue;
        }
        const std::string second = open ? touch.say("sign_off.undecided")
                                        : say(view, "sign_off.decided",
                                              {{"decision", touch.say("danger." + decided->decision)},
                                               {"name", view.name_of(decided->by)},
                                               {"reason", decided->reason}});
        if (row(touch, checkpoint.id, {.title = checkpoint.title, .second = second, .mark = Mark::Danger})) {
            wishes.push_back(GoTo{{Screen::Danger, at_hand.structure->id, "", checkpoint.id}});
        }
    }
}

void draw_missing(Touch& touch, const View& view, Wishes& wishes) {
    const Scope scope(touch, "missing");
    std::size_t number = 0;
    for (const visit::Missing& one : view.at_hand->missing_for_signing) {
        const std::string name = one.checkpoint.empty() ? "stage" + std::to_string(number) : one.checkpoint;
        ++number;
        if (std::ranges::find(view.at_hand->undecided, one.checkpoint) != view.at_hand->undecided.end()) {
            continue; // stands among the Dangers already
        }
        if (!one.step.empty()) {
            if (row(touch, one.step + std::to_string(number),
                    {.title = view.words.say(one.why), .mark = Mark::Unseen})) {
                wishes.push_back(GoTo{to_step(view, one.step)});
            }
        } else if (one.checkpoint.empty()) {
            text(touch, view.words.say(one.why), {.role = Role::Warning});
        } else if (row(touch, name, {.title = view.words.say(one.why), .mark = Mark::Unseen})) {
            wishes.push_back(GoTo{{Screen::Checkpoint, view.at_hand->structure->id, "", one.checkpoint}});
        }
    }
}

void draw_findings(Touch& touch, const View& view) {
    const AtHand& at_hand = *view.at_hand;
    int out_of_reach = 0;
    std::string lines;
    for (const model::Checkpoint& checkpoint : view.protocol.checkpoints) {
        const visit::Answer* answer = answer_at(view, checkpoint.id);
        const auto grade = visit::grade_at(view.protocol, at_hand.state, at_hand.assessed, checkpoint.id);
        const bool out =
            answer != nullptr && std::holds_alternative<model::OutOfReach>(answer->finding.value);
        out_of_reach += out ? 1 : 0;
        if (answer != nullptr && (out || (grade && *grade > model::Grade::Sound))) {
            lines += "\n" + (out ? touch.say("mark.out_of_reach") : view.words.say(*grade)) + ": " +
                     checkpoint.title + ", " + value_text(view, &checkpoint, answer->finding.value);
        }
    }
    text(touch, say(view, "sign_off.counts",
                    {{"recorded", std::to_string(at_hand.state.answers.size())},
                     {"out", std::to_string(out_of_reach)}}) +
                    lines);
    if (!at_hand.state.conflicts.empty()) {
        text(touch,
             say(view, "sign_off.conflicts", {{"count", std::to_string(at_hand.state.conflicts.size())}}),
             {.role = Role::Warning});
    }
}

void draw_whole(Touch& touch, const View& view, Wishes& wishes) {
    const AtHand& at_hand = *view.at_hand;
    draw_visit_head(touch, view);
    draw_notice(touch, view, wishes);
    const ScrollArea area(touch, "area");
    if (!at_hand.state.broken_off.empty()) {
        text(touch, say(view, "sign_off.broken_off", {{"reason", at_hand.state.broken_off}}),
             {.weight = Weight::Bold});
    }
    draw_missing(touch, view, wishes);
    draw_dangers(touch, view, wishes);
    draw_findings(touch, view);
    std::string doers;
    for (const std::string& doer : at_hand.state.doers) {
        doers += (doers.empty() ? "" : ", ") + view.name_of(doer);
    }
    text(touch, say(view, "sign_off.doers", {{"names", doers}}));
    text(touch, say(view, "sign_off.head", {{"digits", at_hand.head.substr(0, 16)}}),
         {.role = Role::QuietWords});

    const model::Person* person = view.reg.person(view.who);
    std::string why;
    if (!at_hand.missing_for_signing.empty()) {
        why = view.words.say(at_hand.missing_for_signing.front().why);
    } else if (person == nullptr || !person->is("lead")) {
        why = touch.say("refused.lead_only");
    } else if (!person->may("sign_visit", model::day_of(view.now))) {
        why = touch.say("refused.may_not_sign");
    } else if (at_hand.state.doers.contains(view.who)) {
        why = touch.say("refused.signer_is_doer");
    }
    if (hold_button(touch, "sign", say(view, "sign_off.hold", {{"name", view.name_of(view.who)}}),
                    touch.say("sign_off.consequence"), why)) {
        wishes.push_back(Mean{visit::SignVisit{at_hand.head, ""}});
    }
}

} // namespace

void draw_sign_off(Touch& touch, const View& view, Wishes& wishes) {
    const Scope scope(touch, "sign_off");
    draw_band(touch, view, wishes);
    const auto acts = [&] { draw_back_and_holder(touch, view, wishes); };
    divide(touch, acts, [&] { draw_whole(touch, view, wishes); });
}

} // namespace crossarm::ui
