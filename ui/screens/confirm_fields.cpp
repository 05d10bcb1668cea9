#include "ui/screens/confirm_fields.hpp"

#include "ui/screens/chrome.hpp"

namespace crossarm::ui {

FormField pin_field(const View& view, const std::string& person) {
    FormField field;
    field.name = "pin_" + person;
    field.ask = Ask::Pin;
    field.question = say(view, "permit.ask.pin", {{"name", view.name_of(person)}});
    field.person = person;
    if (!view.have_pin.contains(person)) {
        field.barred = person.empty() ? view.words.say("structure.take_first")
                                      : say(view, "people.no_pin_yet", {{"name", view.name_of(person)}});
    }
    return field;
}

FormField signature_field(const View& view, const std::string& person) {
    FormField field;
    field.name = "signature";
    field.ask = Ask::Signature;
    field.question = say(view, "permit.ask.signature", {{"name", view.name_of(person)}});
    return field;
}

} // namespace crossarm::ui
