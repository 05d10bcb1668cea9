// Who holds the tablet now, by PIN; and a first PIN, with a witness.
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/choice.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/picker.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

#include <utility>

namespace crossarm::ui {

namespace {

constexpr std::string_view kTake = "take:";   // the form in which a person takes the tablet
constexpr std::string_view kFirst = "first:"; // the form in which a person chooses a PIN

bool works_here(const model::Person& person) {
    return person.is("crew") || person.is("lead");
}

void go_to_form(const Place& place, std::string_view form, const std::string& person, Wishes& wishes) {
    wishes.push_back(GoTo{{Screen::People, place.structure, "", std::string(form) + person}});
}

// A person with a PIN gives it; one without takes the tablet as before, and can sign nothing.
void draw_list(Touch& touch, const View& view, const Place& place, Wishes& wishes) {
    heading(touch, touch.say("people.title"));
    draw_notice(touch, view, wishes);
    text(touch, touch.say("people.how"), {.role = Role::QuietWords});
    std::vector<Option> options;
    std::optional<std::size_t> chosen;
    for (const model::Person& person : view.reg.people) {
        if (works_here(person)) {
            if (person.id == view.who) {
                chosen = options.size();
            }
            const std::string role = touch.say(person.is("lead") ? "people.lead" : "people.crew");
            const bool has_pin = view.have_pin.contains(person.id);
            options.push_back({person.id, person.name, std::nullopt,
                               role + ". " + touch.say(has_pin ? "people.has_pin" : "people.has_none")});
        }
    }
    const auto picked = picker(touch, "list", options, chosen);
    if (!picked) {
        return;
    }
    const std::string& person = options[*picked].name;
    if (view.have_pin.contains(person)) {
        go_to_form(place, kTake, person, wishes);
    } else {
        wishes.push_back(TakeOver{person});
        wishes.push_back(GoBack{});
    }
}

FormField pin_field(const View& view, const std::string& name, const char* question,
                    const std::string& person) {
    FormField field;
    field.name = name;
    field.ask = Ask::Pin;
    field.question = say(view, question, {{"name", view.name_of(person)}});
    field.person = person;
    return field;
}

void draw_take(Touch& touch, const View& view, const std::string& person, FormDraft& draft, Wishes& wishes) {
    const std::vector<FormField> fields = {pin_field(view, "pin_own", "people.pin_of", person)};
    draft.pin.notice = draft.pin.count() == 0 ? view.pin_notice : draft.pin.notice;
    (void)draw_form(touch, "form", fields, draft, {.label = touch.say("people.take")});
    if (is_answered(fields, draft)) { // one PIN is enough of a confirmation
        std::vector<GivenPin> pins = draft.take_pins();
        draft.clear();
        wishes.push_back(TakeOver{person, std::move(pins.front().digits)});
    }
}

std::vector<FormField> first_pin_fields(const View& view, const std::string& person, const FormDraft& draft) {
    std::vector<FormField> fields;
    if (!view.have_pin.empty()) {
        FormField witness;
        witness.name = "witness";
        witness.ask = Ask::Choice;
        witness.question = view.words.say("people.witness");
        for (const model::Person& one : view.reg.people) {
            if (view.have_pin.contains(one.id) && one.id != person) {
                witness.options.push_back({one.id, one.name});
            }
        }
        fields.push_back(std::move(witness));
    }
    fields.push_back(pin_field(view, "pin_new", "people.pin_new", person));
    fields.push_back(pin_field(view, "pin_again", "people.pin_again", person));
    if (const std::string witness = draft.answer("witness"); !witness.empty()) {
        fields.push_back(pin_field(view, "pin_witness", "people.pin_of", witness));
    }
    return fields;
}

void draw_first(Touch& touch, const View& view, const std::string& person, FormDraft& draft, Wishes& wishes) {
    text(touch, touch.say("people.first_how"), {.role = Role::QuietWords});
    if (!view.pin_notice.empty()) {
        text(touch, view.pin_notice, {.weight = Weight::Bold, .role = Role::Warning});
    }
    const std::vector<FormField> fields = first_pin_fields(view, person, draft);
    const bool differ = draft.pins.size() >= 2 && draft.pins[0].digits != draft.pins[1].digits;
    const FormConfirm confirm{.label = touch.say("people.set_pin"),
                              .why_disabled = differ ? touch.say("people.differ") : std::string()};
    if (!draw_form(touch, "form", fields, draft, confirm) || draft.pins.size() < 2) {
        return;
    }
    std::vector<GivenPin> pins = draft.take_pins();
    wipe(pins[1].digits);
    SetPin wish{std::move(pins[0])};
    if (pins.size() > 2) {
        wish.witness = std::move(pins[2]);
    }
    draft.clear();
    wishes.push_back(std::move(wish));
}

void draw_content(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const std::string_view form = place.checkpoint;
    const std::string_view beginning = form.starts_with(kTake) ? kTake : kFirst;
    if (!form.starts_with(beginning)) {
        draw_list(touch, view, place, wishes);
        return;
    }
    const std::string person(form.substr(beginning.size()));
    heading(touch, view.name_of(person));
    draw_notice(touch, view, wishes);
    if (std::exchange(drafts.form.moved_on, false)) {
        scroll_to_top(touch, "area");
    }
    const ScrollArea area(touch, "area");
    if (beginning == kTake) {
        draw_take(touch, view, person, drafts.form, wishes);
    } else {
        draw_first(touch, view, person, drafts.form, wishes);
    }
}

} // namespace

void draw_people(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    const Scope scope(touch, "people");
    draw_band(touch, view, wishes);
    const auto acts = [&] {
        ActRow row(touch, 2);
        draw_back(touch, wishes);
        row.next();
        const bool may = !view.who.empty() && !view.have_pin.contains(view.who) && place.checkpoint.empty();
        if (may && button(touch, "first", touch.say("people.choose_pin"))) {
            go_to_form(place, kFirst, view.who, wishes);
        }
    };
    divide(touch, acts, [&] { draw_content(touch, view, place, drafts, wishes); });
}

} // namespace crossarm::ui
