// The permit: its steps in read-do order, and how each is done.
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

namespace crossarm::ui {

namespace {

void draw_steps(Touch& touch, const View& view, Wishes& wishes) {
    heading(touch, touch.say("permit.title"));
    draw_notice(touch, view, wishes);
    const ScrollArea area(touch, "steps");
    const visit::Setting setting = view.setting();
    for (const visit::permit::Step& step :
         visit::permit::steps(view.at_hand->state.permit, setting.rules, setting.now)) {
        const std::string second =
            step.done      ? touch.say("permit.done")
            : step.missing ? view.words.say(with_names(view.reg, step.missing->why))
                           : std::string();
        if (row(touch, step.id, {.title = step_title(view, step.id), .second = second})) {
            wishes.push_back(GoTo{to_step(view, step.id)});
        }
    }
}

void draw_step(Touch& touch, const View& view, const std::string& step, Wishes& wishes) {
    heading(touch, step_title(view, step));
    draw_notice(touch, view, wishes, step);
    const ScrollArea area(touch, "step");
    text(touch, view.words.say("permit_help." + step));
    text(touch, view.words.say("permit_caution." + step), {.weight = Weight::Bold, .role = Role::Warning});
}

} // namespace

void draw_permit(Touch& touch, const View& view, const Place& place, Drafts& /*drafts*/, Wishes& wishes) {
    const Scope scope(touch, "permit");
    draw_band(touch, view);
    const auto acts = [&] { draw_back_and_holder(touch, view, wishes); };
    divide(touch, acts, [&] {
        if (place.part.empty()) {
            draw_steps(touch, view, wishes);
        } else {
            draw_step(touch, view, place.part, wishes);
        }
    });
}

} // namespace crossarm::ui
