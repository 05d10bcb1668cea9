#include "tests/support/form_walker.hpp"

#include "tests/support/pins.hpp"

#include <algorithm>

namespace crossarm::tests {

namespace {

// What a crew would say here. Fields that are not named take their first option.
std::string usual_answer(const ui::FormField& field) {
    static const FormAnswers usual = {
        {"lock", "L-7"}, {"label", "T 12"}, {"detector", "D-HV 3"}, {"earth", "E-21"},  {"size", "95"},
        {"hours", "8"},  {"count", "14"},   {"distance", "3.5"},    {"reason", "Seen"},
    };
    const auto found = usual.find(field.name);
    return found != usual.end() ? found->second : field.options.empty() ? "Seen" : field.options.front().name;
}

} // namespace

void FormWalker::pin(const std::string& field, const std::string& digits) {
    finger_.type("form/" + field + "/pad", digits);
    finger_.tap("form/" + field + "/pad/done");
}

void FormWalker::give(const ui::FormField& field, const std::string& answer) {
    const std::string at = "form/" + field.name;
    const bool offered = std::ranges::find(field.options, answer, &ui::Option::name) != field.options.end();
    switch (field.ask) {
    case ui::Ask::Words:
        if (offered) {
            finger_.tap(at + "/choice/" + answer);
            return;
        }
        if (!field.options.empty()) {
            finger_.tap(at + "/choice/own_words");
        }
        finger_.type_text(at + "/text", answer);
        finger_.tap(at + "/text/keep");
        return;
    case ui::Ask::Choice:
        finger_.tap(at + "/choice/" + answer);
        return;
    case ui::Ask::Number:
        finger_.type(at + "/pad", answer);
        finger_.tap(at + "/pad/keep");
        return;
    case ui::Ask::Signature:
        finger_.settle();
        finger_.sign(at + "/pad");
        finger_.tap(at + "/keep");
        return;
    case ui::Ask::Pin:
        pin(field.name, answer == "Seen" ? kTestPin : answer);
        return;
    }
}

void FormWalker::answer(const ui::FormOf& form, const FormAnswers& answers) {
    for (int turn = 0; turn < 40; ++turn) {
        const std::vector<ui::FormField> fields =
            ui::fields_of(session_.view(), form, session_.drafts().form);
        const ui::FormField* open = ui::open_field(fields, session_.drafts().form);
        if (open == nullptr) {
            return;
        }
        const auto given = answers.find(open->name);
        give(*open, given != answers.end() ? given->second : usual_answer(*open));
    }
    throw FingerError(ui::to_text(form) + " does not end:\n" + finger_.words_in_sight());
}

void FormWalker::confirm(const ui::FormOf& form) {
    if (ui::confirm_of(session_.view(), form).consequence.empty()) {
        finger_.tap("form/confirm");
    } else {
        finger_.hold("form/confirm");
    }
}

void FormWalker::fill(const ui::FormOf& form, const FormAnswers& answers) {
    answer(form, answers);
    const std::size_t before = session_.view().at_hand->state.entries;
    confirm(form);
    if (session_.view().at_hand->state.entries == before) {
        throw FingerError(ui::to_text(form) + " was not kept:\n" + finger_.words_in_sight());
    }
}

} // namespace crossarm::tests
