// A Danger that the lead decides about.
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/choice.hpp"
#include "ui/touch/keyboard.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <array>

namespace crossarm::ui {

namespace {

void draw_decision(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const model::Checkpoint& checkpoint = *view.protocol.checkpoint(place.checkpoint);
    heading(touch, checkpoint.title);
    draw_notice(touch, view, wishes, place.checkpoint);
    const ScrollArea area(touch, "area");
    const visit::Answer* answer = answer_at(view, place.checkpoint);
    if (answer == nullptr) {
        text(touch, touch.say("danger.gone"));
        return;
    }
    mark_line(touch, Mark::Danger);
    text(touch, say(view, "checkpoint.stands",
                    {{"value", value_text(view, &checkpoint, answer->finding.value)},
                     {"name", view.name_of(answer->by)},
                     {"at", model::for_people(answer->at)}}));
    text(touch, say(view, "danger.how", {{"name", view.name_of(view.who)}}), {.role = Role::QuietWords});

    constexpr std::array kDecisions = {"put_right", "supply_stays_off", "may_return"};
    std::vector<Option> options;
    std::optional<std::size_t> chosen;
    for (const char* decision : kDecisions) {
        if (drafts.danger_decision == decision) {
            chosen = options.size();
        }
        options.push_back({decision, touch.say(std::string("danger.") + decision)});
    }
    if (const auto picked = choice(touch, "decision", options, chosen, 80.0F)) {
        drafts.danger_decision = kDecisions[*picked];
        drafts.text = {};
        touch.bring_into_view(touch.path("reason/value"));
    }
    if (!drafts.danger_decision.empty()) {
        drafts.text.title = touch.say("danger.reason");
        if (keyboard(touch, "reason", drafts.text)) {
            wishes.push_back(
                Mean{visit::DecideDanger{place.checkpoint, drafts.danger_decision, drafts.text.text}});
        }
    }
}

} // namespace

void draw_danger(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const Scope scope(touch, "danger");
    draw_band(touch, view, wishes);
    const auto acts = [&] { draw_back_and_holder(touch, view, wishes); };
    divide(touch, acts, [&] { draw_decision(touch, view, place, drafts, wishes); });
}

} // namespace crossarm::ui
