// Who holds the tablet and who confirms: PINs are tried by the store before anything is meant.
#include "checklist/visit/confirm.hpp"
#include "ui/screens/session.hpp"
#include "ui/touch/pin_draft.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::ui {

void Session::refresh_pins() {
    const std::vector<std::string> people = supplies_.store.people_with_pin();
    view_.have_pin = {people.begin(), people.end()};
}

bool Session::is_right(const GivenPin& pin) {
    const auto tried =
        supplies_.store.try_pin(pin.person, pin.digits, {supplies_.clock(), supplies_.since_boot()});
    if (!tried) {
        view_.pin_notice = model::to_text(tried.problem());
        return false;
    }
    if (tried->answer == store::PinAnswer::Right) {
        return true;
    }
    const char* key = tried->answer == store::PinAnswer::NoPin  ? "people.no_pin_yet"
                      : tried->answer == store::PinAnswer::Wait ? "people.pin_waits"
                      : tried->wait_s > 0.0                     ? "people.pin_wrong_waits"
                                                                : "people.pin_wrong";
    const model::Person* person = supplies_.reg.person(pin.person);
    view_.pin_notice = supplies_.words.say(
        model::Phrase{key,
                      {{"name", person == nullptr ? pin.person : person->name},
                       {"seconds", std::to_string(static_cast<long>(std::ceil(tried->wait_s)))}}});
    return false;
}

// No screen can leave a PIN out: whoever has to confirm is asked here once more.
bool Session::are_confirmed(const visit::Intent& intent, const std::string& who,
                            const std::vector<std::string>& confirmed) {
    for (const std::string& person : visit::confirmers(intent, who)) {
        if (std::ranges::find(confirmed, person) == confirmed.end()) {
            view_.notice =
                supplies_.words.say(model::Phrase{"people.pin_asked", {{"name", view_.name_of(person)}}});
            return false;
        }
    }
    return true;
}

// From the form of a PIN back to where the people were asked for.
void Session::leave_people() {
    while (way_.size() > 1 && way_.back().screen == Screen::People) {
        go_back();
    }
}

void Session::take_over(const TakeOver& wish) {
    const bool has_pin = view_.have_pin.contains(wish.person);
    if (has_pin && !is_right({wish.person, wish.pin})) {
        return;
    }
    view_.who = wish.person;
    if (has_pin) {
        leave_people();
    }
}

void Session::set_pin(const SetPin& wish) {
    const model::Person* person = supplies_.reg.person(wish.fresh.person);
    const model::Person* witness = supplies_.reg.person(wish.witness.person);
    if (person == nullptr) {
        return;
    }
    std::optional<store::PinWitness> seen;
    if (witness != nullptr) {
        seen = store::PinWitness{*witness, wish.witness.digits};
    }
    const store::PinMoment when{supplies_.clock(), supplies_.since_boot()};
    const auto done = supplies_.store.set_pin(*person, wish.fresh.digits, seen, when, supplies_.pin_cost);
    if (!done) {
        view_.pin_notice = model::to_text(done.problem());
        return;
    }
    refresh_pins();
    leave_people();
}

void Session::mean_with_pins(const MeanWithPins& wish) {
    std::vector<std::string> confirmed;
    for (const GivenPin& pin : wish.pins) {
        if (!is_right(pin)) {
            return;
        }
        confirmed.push_back(pin.person);
    }
    if (!confirmed.empty()) {
        mean(wish.intent, confirmed.front(), confirmed);
    }
}

void Session::wipe_pins(Wish& wish) {
    if (auto* take = std::get_if<TakeOver>(&wish)) {
        wipe(take->pin);
    } else if (auto* set = std::get_if<SetPin>(&wish)) {
        wipe(set->fresh.digits);
        wipe(set->witness.digits);
    } else if (auto* meant = std::get_if<MeanWithPins>(&wish)) {
        for (GivenPin& pin : meant->pins) {
            wipe(pin.digits);
        }
    }
}

} // namespace crossarm::ui
