// Sign-off: what is missing, what was found, how it was recorded, and the lead's signature.
#include "ui/screens/chrome.hpp"
#include "ui/screens/confirm_fields.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>
#include <utility>

namespace crossarm::ui {

namespace {

void draw_dangers(Touch& touch, const View& view, Wishes& wishes) {
    const Scope scope(touch, "dangers");
    const AtHand& at_hand = *view.at_hand;
    for (const model::Checkpoint& checkpoint : view.protocol().checkpoints) {
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
    for (const model::Checkpoint& checkpoint : view.protocol().checkpoints) {
        const visit::Answer* answer = answer_at(view, checkpoint.id);
        const auto grade = visit::grade_at(view.protocol(), at_hand.state, at_hand.assessed, checkpoint.id);
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

// How it was recorded: for the lead to know before signing. Facts bar nothing.
void draw_facts(Touch& touch, const View& view) {
    const AtHand& at_hand = *view.at_hand;
    if (at_hand.facts.empty() && at_hand.permit.time_facts.empty()) {
        return;
    }
    heading(touch, touch.say("sign_off.facts"));
    text(touch, touch.say("sign_off.facts_how"), {.role = Role::QuietWords});
    for (const visit::Fact& fact : at_hand.facts) {
        text(touch, say_reason(view, fact.says));
    }
    for (const model::Phrase& fact : at_hand.permit.time_facts) {
        text(touch, say_reason(view, fact));
    }
}

void draw_what_is_signed(Touch& touch, const View& view) {
    const AtHand& at_hand = *view.at_hand;
    draw_findings(touch, view);
    std::string doers;
    for (const std::string& doer : at_hand.state.doers) {
        doers += (doers.empty() ? "" : ", ") + view.name_of(doer);
    }
    text(touch, say(view, "sign_off.doers", {{"names", doers}}));
    text(touch, say(view, "sign_off.head", {{"digits", at_hand.head.substr(0, 16)}}),
         {.role = Role::QuietWords});
}

// Why whoever holds the tablet cannot sign, as decide() would say it; empty when they can.
std::string why_not(const View& view) {
    const AtHand& at_hand = *view.at_hand;
    const model::Person* person = view.reg.person(view.who);
    if (!at_hand.missing_for_signing.empty()) {
        return view.words.say(at_hand.missing_for_signing.front().why);
    }
    const std::string key = person == nullptr || !person->is("lead")              ? "refused.lead_only"
                            : !person->may("sign_visit", model::day_of(view.now)) ? "refused.may_not_sign"
                            : at_hand.state.doers.contains(view.who)              ? "refused.signer_is_doer"
                                                                                  : "";
    return key.empty() ? key : view.words.say(key);
}

void draw_overview(Touch& touch, const View& view, Wishes& wishes) {
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
    draw_facts(touch, view);
    draw_what_is_signed(touch, view);
    if (button(touch, "sign", say(view, "sign_off.sign", {{"name", view.name_of(view.who)}}),
               {.emphasis = Emphasis::Main, .why_disabled = why_not(view)})) {
        wishes.push_back(GoTo{{Screen::SignOff, at_hand.structure->id, "", "sign"}});
    }
}

void draw_signing(Touch& touch, const View& view, FormDraft& draft, Wishes& wishes) {
    heading(touch, touch.say("sign_off.title"));
    draw_notice(touch, view, wishes);
    if (std::exchange(draft.moved_on, false)) {
        scroll_to_top(touch, "area");
    }
    const ScrollArea area(touch, "area");
    if (!view.pin_notice.empty()) {
        text(touch, view.pin_notice, {.weight = Weight::Bold, .role = Role::Warning});
    }
    const std::vector<FormField> fields = {signature_field(view, view.who), pin_field(view, view.who)};
    if (draft.answers.empty()) {
        draw_what_is_signed(touch, view); // whole, before anybody signs
    }
    const FormConfirm confirm{.label = say(view, "sign_off.hold", {{"name", view.name_of(view.who)}}),
                              .consequence = touch.say("sign_off.consequence"),
                              .why_disabled = why_not(view)};
    if (draw_form(touch, "form", fields, draft, confirm)) {
        wishes.push_back(MeanWithPins{visit::SignVisit{view.at_hand->head, "", draft.answer("signature")},
                                      draft.hand_over_pins()});
    }
}

} // namespace

void draw_sign_off(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const Scope scope(touch, "sign_off");
    draw_band(touch, view, wishes);
    const auto acts = [&] { draw_back_and_holder(touch, view, wishes); };
    divide(touch, acts, [&] {
        if (place.checkpoint.empty()) {
            draw_overview(touch, view, wishes);
        } else {
            draw_signing(touch, view, drafts.form, wishes);
        }
    });
}

} // namespace crossarm::ui
