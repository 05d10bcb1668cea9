// Hand-over: the bundle, where it lies, and what the office is known to have.
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

namespace crossarm::ui {

namespace {

std::string state_text(const View& view) {
    const auto& bundle = view.at_hand->bundle;
    return view.words.say(bundle ? state_key(bundle->state) : "hand_over.state.kept");
}

void draw_whole(Touch& touch, const View& view, Wishes& wishes) {
    const AtHand& at_hand = *view.at_hand;
    draw_visit_head(touch, view);
    draw_notice(touch, view, wishes);
    const ScrollArea area(touch, "area");
    text(touch, say(view, "hand_over.state", {{"state", state_text(view)}}),
         {.letter = Letter::Value, .weight = Weight::Bold});
    if (at_hand.bundle && !at_hand.bundle->held_back.empty()) {
        text(touch, say(view, "hand_over.held_back", {{"reason", at_hand.bundle->held_back}}),
             {.weight = Weight::Bold});
    }
    text(touch, touch.say("hand_over.how"));
    if (at_hand.bundle) {
        text(touch,
             say(view, "hand_over.file",
                 {{"file", at_hand.bundle->file},
                  {"size", std::to_string((at_hand.bundle->bytes.size() + 1023) / 1024)},
                  {"digits", at_hand.bundle->digest.substr(0, 8)}}),
             {.may_break_words = true});
    }
    const std::string why = at_hand.state.signature ? "" : touch.say("hand_over.not_signed");
    if (button(touch, "write", touch.say(at_hand.bundle ? "hand_over.write_again" : "hand_over.write"),
               {.emphasis = at_hand.bundle ? Emphasis::Plain : Emphasis::Main, .why_disabled = why})) {
        wishes.push_back(WriteBundle{});
    }
    if (at_hand.bundle && at_hand.bundle->state == store::HandOver::Written &&
        button(touch, "handed_over", touch.say("hand_over.handed_over"), {.emphasis = Emphasis::Main})) {
        wishes.push_back(SayHandedOver{});
    }
}

} // namespace

void draw_hand_over(Touch& touch, const View& view, Wishes& wishes) {
    const Scope scope(touch, "hand_over");
    draw_band(touch, view, wishes);
    const auto acts = [&] {
        ActRow row_of_acts(touch, 2);
        draw_back(touch, wishes);
        row_of_acts.next();
        if (button(touch, "round", touch.say("hand_over.to_round"))) {
            wishes.push_back(GoTo{Place{}});
        }
    };
    divide(touch, acts, [&] { draw_whole(touch, view, wishes); });
}

} // namespace crossarm::ui
