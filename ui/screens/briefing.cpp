// The job briefing: what kills first, what is known here, the day, the rescue, and each person's own word.
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/permit_form.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <array>
#include <initializer_list>

namespace crossarm::ui {

namespace {

// Answers that stand at these checkpoints, a line each; what was not answered says so.
std::string answers_at(const View& view, std::initializer_list<const char*> checkpoints) {
    std::string lines;
    for (const char* id : checkpoints) {
        const model::Checkpoint* checkpoint = view.protocol().checkpoint(id);
        if (checkpoint == nullptr) {
            continue;
        }
        const visit::Answer* answer = answer_at(view, id);
        lines += (lines.empty() ? "" : "\n") + checkpoint->title + ": " +
                 (answer == nullptr ? view.words.say("mark.unseen")
                                    : value_text(view, checkpoint, answer->finding.value));
    }
    return lines;
}

// A Danger found here before, or in this visit.
std::string known_dangers(const View& view) {
    std::string lines;
    for (const model::Checkpoint& checkpoint : view.protocol().checkpoints) {
        for (const model::EarlierReading& earlier :
             view.reg.earlier_of(view.at_hand->structure->id, checkpoint.id)) {
            const auto* grade = std::get_if<model::Grade>(&earlier.value);
            if (grade != nullptr && *grade == model::Grade::Danger) {
                lines += "\n" + say(view, "briefing.danger_before",
                                    {{"date", model::for_people(earlier.on)}, {"title", checkpoint.title}});
            }
        }
    }
    for (const std::string& id : view.at_hand->undecided) {
        lines += "\n" + say(view, "briefing.danger_now", {{"title", view.protocol().checkpoint(id)->title}});
    }
    return lines;
}

void draw_killers(Touch& touch, const View& view) {
    heading(touch, touch.say("briefing.killers"));
    constexpr std::array kKillers = {"briefing.killer.live", "briefing.killer.backfeed",
                                     "briefing.killer.fall", "briefing.killer.pole", "briefing.killer.storm"};
    for (const char* killer : kKillers) {
        text(touch, touch.say(killer), {.weight = Weight::Bold});
    }
    const std::string& note = view.at_hand->structure->note;
    heading(touch, touch.say("briefing.here"));
    text(touch, (note.empty() ? touch.say("briefing.no_note") : note) + known_dangers(view),
         {.weight = Weight::Bold});
}

void draw_plan(Touch& touch, const View& view) {
    const model::Structure& structure = *view.at_hand->structure;
    const model::Utility& utility = view.reg.utility;
    const auto or_unknown = [&](const std::string& words) {
        return words.empty() ? touch.say("briefing.not_known") : words;
    };
    heading(touch, touch.say("briefing.today"));
    text(touch, answers_at(view, {"arrive.weather", "arrive.wind", "arrive.lightning", "arrive.ground"}));
    heading(touch, touch.say("briefing.rescue"));
    text(touch, answers_at(view, {"brief.rescue", "brief.rescue_ready", "brief.first_aiders"}));
    std::string hospital = or_unknown(structure.hospital);
    if (structure.hospital_minutes) {
        hospital +=
            ", " + say(view, "briefing.minutes", {{"minutes", std::to_string(*structure.hospital_minutes)}});
    }
    text(touch,
         say(view, "briefing.calls",
             {{"hospital", hospital},
              {"emergency", or_unknown(utility.emergency_call)},
              {"control", or_unknown(utility.control_room_call)}}),
         {.weight = Weight::Bold});
    heading(touch, touch.say("briefing.gear"));
    text(touch, answers_at(view, {"brief.gloves_harness", "brief.sticks_detector"}));
}

// Everyone named in the visit, each with their own word by their own PIN.
void draw_people_briefed(Touch& touch, const View& view, Wishes& wishes) {
    const Scope scope(touch, "person");
    heading(touch, touch.say("briefing.each"));
    text(touch, touch.say("briefing.challenge"));
    text(touch, touch.say("permit_help.brief"));
    text(touch, touch.say("permit_caution.brief"), {.weight = Weight::Bold, .role = Role::Warning});
    const visit::Answer* crew = answer_at(view, "brief.crew");
    const auto* picked = crew == nullptr ? nullptr : std::get_if<model::Choice>(&crew->finding.value);
    if (picked == nullptr) {
        text(touch, touch.say("briefing.no_crew"), {.role = Role::Warning});
        return;
    }
    for (const std::string& person : picked->picked) {
        const bool heard = view.at_hand->permit.state.briefed.contains(person);
        const std::string second = touch.say(heard ? "briefing.heard" : "briefing.to_hear");
        const std::string name = view.name_of(person);
        if (row(touch, person, {.title = name, .second = second})) {
            wishes.push_back(GoTo{
                {Screen::Briefing, view.at_hand->structure->id, "", to_text(FormOf{"briefed", person})}});
        }
    }
}

} // namespace

void draw_briefing(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const Scope scope(touch, "briefing");
    draw_band(touch, view, wishes);
    const auto content = [&] {
        if (!place.checkpoint.empty()) {
            draw_permit_form(touch, view, form_of(place.checkpoint), drafts.form, wishes);
            return;
        }
        heading(touch, touch.say("briefing.title"));
        draw_notice(touch, view, wishes);
        const ScrollArea area(touch, "area");
        draw_killers(touch, view);
        draw_plan(touch, view);
        draw_people_briefed(touch, view, wishes);
        text(touch, touch.say("structure.caution"), {.role = Role::Warning});
    };
    divide(touch, [&] { draw_back_and_holder(touch, view, wishes); }, content);
}

} // namespace crossarm::ui
