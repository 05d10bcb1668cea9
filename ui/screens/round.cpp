// The round: which structures are due, and how far each visit has come.
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

std::string due_text(const View& view, const RoundLine& line) {
    if (!line.due) {
        return view.words.say("round.not_due");
    }
    const std::int32_t late = model::day_of(view.now).days - line.due->days;
    const std::string on = model::for_people(*line.due);
    if (late > 0) {
        return say(view, late == 1 ? "round.late_one" : "round.late",
                   {{"date", on}, {"days", std::to_string(late)}});
    }
    return say(view, late == 0 ? "round.today" : "round.due", {{"date", on}});
}

// Upkeep is the usual visit and is not named.
std::string kind_text(const View& view, const RoundLine& line) {
    const std::string key = "round.kind." + line.kind;
    return line.due && view.words.has(key) ? view.words.say(key) + ". " : std::string();
}

std::string not_with_office(const View& view) {
    const auto count = std::ranges::count_if(view.round, [](const RoundLine& line) {
        return line.is_signed && line.bundle != store::HandOver::Received;
    });
    return count == 0   ? view.words.say("round.all_with_office")
           : count == 1 ? view.words.say("round.one_not_with_office")
                        : say(view, "round.not_with_office", {{"count", std::to_string(count)}});
}

void draw_acts(Touch& touch, const View& view, Drafts& drafts, Wishes& wishes) {
    ActRow acts(touch, 2);
    draw_holder(touch, view, wishes);
    acts.next();
    if (button(touch, "all", touch.say(drafts.all_structures ? "round.show_due" : "round.show_all"))) {
        drafts.all_structures = !drafts.all_structures;
        scroll_to_top(touch, "list");
    }
}

void draw_lines_of(Touch& touch, const View& view, const Drafts& drafts, Wishes& wishes) {
    heading(touch, say(view, "round.title", {{"date", model::for_people(model::day_of(view.now))}}));
    text(touch,
         say(view, "round.office", {{"office", view.office}, {"number", std::to_string(view.day_pack)}}) +
             "\n" + not_with_office(view),
         {.role = Role::QuietWords});
    draw_notice(touch, view, wishes);

    const ScrollArea list(touch, "list");
    bool any = false;
    for (const RoundLine& line : view.round) {
        if (!drafts.all_structures && !line.due && !line.visit) {
            continue;
        }
        any = true;
        const model::Structure* structure = view.structure(line.structure);
        const std::string title = structure->id + "  " + structure->name;
        const std::string second =
            structure->feeder + ", " +
            model::for_people({structure->plate.rating_kVA, model::Unit::KilovoltAmpere}) + "\n" +
            kind_text(view, line) + due_text(view, line) + (line.reason.empty() ? "" : ". " + line.reason) +
            "\n" + hand_over_text(view, line);
        if (row(touch, structure->id, {.title = title, .second = second})) {
            wishes.push_back(GoTo{{Screen::Structure, structure->id, "", ""}});
        }
    }
    if (!any) {
        text(touch, touch.say("round.empty"));
    }
}

} // namespace

void draw_round(Touch& touch, const View& view, Drafts& drafts, Wishes& wishes) {
    const Scope scope(touch, "round");
    draw_band(touch, view, wishes);
    divide(
        touch, [&] { draw_acts(touch, view, drafts, wishes); },
        [&] { draw_lines_of(touch, view, drafts, wishes); });
}

} // namespace crossarm::ui
