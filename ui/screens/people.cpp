// Who holds the tablet now.
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/choice.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/picker.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>

namespace crossarm::ui {

namespace {

void draw_list(Touch& touch, const View& view, Wishes& wishes) {
    heading(touch, touch.say("people.title"));
    text(touch, touch.say("people.how"), {.role = Role::QuietWords});
    std::vector<Option> options;
    std::optional<std::size_t> chosen;
    for (const model::Person& person : view.reg.people) {
        if (person.is("crew") || person.is("lead")) {
            if (person.id == view.who) {
                chosen = options.size();
            }
            options.push_back({person.id, person.name, std::nullopt,
                               touch.say(person.is("lead") ? "people.lead" : "people.crew")});
        }
    }
    if (const auto picked = picker(touch, "list", options, chosen)) {
        wishes.push_back(TakeOver{options[*picked].name});
        wishes.push_back(GoBack{});
    }
}

} // namespace

void draw_people(Touch& touch, const View& view, Wishes& wishes) {
    const Scope scope(touch, "people");
    draw_band(touch, view);
    divide(touch, [&] { draw_back(touch, wishes); }, [&] { draw_list(touch, view, wishes); });
}

} // namespace crossarm::ui
