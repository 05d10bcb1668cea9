#include "ui/screens/form.hpp"

#include "checklist/store/pin_rules.hpp"
#include "ui/touch/button.hpp"
#include "ui/touch/hold_button.hpp"
#include "ui/touch/keyboard.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/number_pad.hpp"
#include "ui/touch/pin_pad.hpp"
#include "ui/touch/row.hpp"
#include "ui/touch/signature_pad.hpp"
#include "ui/touch/text.hpp"

#include <algorithm>
#include <utility>

namespace crossarm::ui {

namespace {

// Of a signature and a PIN only that they were given.
std::string shown_answer(const Touch& touch, const FormField& field, const std::string& answer) {
    switch (field.ask) {
    case Ask::Signature:
        return touch.say("form.signed");
    case Ask::Pin:
        return touch.say("form.pin_given");
    case Ask::Number:
        return field.unit.empty() ? answer : answer + "\u00A0" + field.unit;
    case Ask::Words:
        return answer;
    case Ask::Choice:
        break;
    }
    const auto option = std::ranges::find(field.options, answer, &Option::name);
    return option == field.options.end() ? answer : option->label;
}

void begin(FormDraft& draft, const FormField& field) {
    if (draft.asked == field.name) {
        return;
    }
    draft.asked = field.name;
    draft.own_words = false;
    draft.text = {};
    draft.number = {};
    clear(draft.signature);
    draft.pin.wipe();
    draft.pin.notice.clear();
    draft.text.title = field.question;
    draft.number.title = field.question;
    draft.number.limits = field.limits;
    draft.number.unit = field.unit;
    draft.pin.title = field.question;
    draft.pin.least = store::kLeastPinDigits;
}

void keep(FormDraft& draft, const FormField& field, std::string answer) {
    draft.answers.insert_or_assign(field.name, std::move(answer));
    draft.asked.clear();
    draft.moved_on = true;
}

void ask_options(Touch& touch, const FormField& field, FormDraft& draft) {
    heading(touch, field.question);
    std::vector<Option> options = field.options;
    if (field.ask == Ask::Words) {
        options.push_back({"own_words", touch.say("reason.own_words")});
    }
    if (options.empty()) {
        text(touch, touch.say("form.nobody"), {.role = Role::Warning});
        return;
    }
    const auto picked = choice(touch, "choice", options, std::nullopt, 60.0F);
    if (!picked) {
        return;
    }
    if (field.ask == Ask::Words && *picked == field.options.size()) {
        draft.own_words = true;
    } else {
        const Option& option = options[*picked];
        keep(draft, field, field.ask == Ask::Words ? option.label : option.name);
    }
}

void ask_signature(Touch& touch, const FormField& field, FormDraft& draft) {
    heading(touch, field.question);
    signature_pad(touch, "pad", draft.signature);
    const std::string why = why_not_signed(draft.signature);
    if (button(touch, "keep", touch.say("form.take_signature"),
               {.emphasis = Emphasis::Main, .why_disabled = why.empty() ? why : touch.say(why)})) {
        keep(draft, field, signed_text(draft.signature));
    }
}

void ask(Touch& touch, const FormField& field, FormDraft& draft) {
    begin(draft, field);
    const Scope scope(touch, field.name);
    if (!field.barred.empty()) {
        heading(touch, field.question);
        text(touch, field.barred, {.weight = Weight::Bold, .role = Role::Warning});
        return;
    }
    switch (field.ask) {
    case Ask::Words:
        if (draft.own_words || field.options.empty()) {
            if (keyboard(touch, "text", draft.text)) {
                keep(draft, field, draft.text.text);
            }
            return;
        }
        [[fallthrough]];
    case Ask::Choice:
        ask_options(touch, field, draft);
        return;
    case Ask::Number:
        if (number_pad(touch, "pad", draft.number)) {
            keep(draft, field, plain_number(*number(draft.number)));
        }
        return;
    case Ask::Signature:
        ask_signature(touch, field, draft);
        return;
    case Ask::Pin:
        if (auto digits = pin_pad(touch, "pad", draft.pin)) {
            draft.pins.push_back({field.person, std::move(*digits)});
            keep(draft, field, "given");
        }
        return;
    }
}

void show_answered(Touch& touch, const std::vector<FormField>& fields, FormDraft& draft) {
    const Scope scope(touch, "answered");
    std::string again;
    for (const FormField& field : fields) {
        const auto answer = draft.answers.find(field.name);
        if (answer == draft.answers.end()) {
            continue;
        }
        const std::string shown = shown_answer(touch, field, answer->second);
        if (row(touch, field.name, {.title = shown, .second = field.question})) {
            again = field.name;
        }
    }
    if (!again.empty()) {
        draft.ask_again(again);
    }
}

bool show_confirm(Touch& touch, const FormConfirm& confirm) {
    if (confirm.consequence.empty()) {
        return button(touch, "confirm", confirm.label,
                      {.emphasis = Emphasis::Main, .why_disabled = confirm.why_disabled});
    }
    return hold_button(touch, "confirm", confirm.label, confirm.consequence, confirm.why_disabled);
}

} // namespace

std::string FormDraft::answer(std::string_view field) const {
    const auto found = answers.find(field);
    return found == answers.end() ? std::string() : found->second;
}

void FormDraft::clear() {
    for (GivenPin& one : take_pins()) {
        wipe(one.digits);
    }
    answers.clear();
    asked.clear();
    moved_on = true;
    own_words = false;
    text = {};
    number = {};
    ui::clear(signature);
    pin.wipe();
    pin.notice.clear();
}

void FormDraft::ask_again(const std::string& field) {
    answers.erase(field);
    std::erase_if(answers,
                  [](const auto& one) { return one.first == "signature" || one.first.starts_with("pin_"); });
    for (GivenPin& one : pins) {
        wipe(one.digits);
    }
    pins.clear();
    asked.clear();
    moved_on = true;
}

std::vector<GivenPin> FormDraft::take_pins() {
    return std::exchange(pins, {});
}

std::vector<GivenPin> FormDraft::hand_over_pins() {
    std::erase_if(answers, [](const auto& one) { return one.first.starts_with("pin_"); });
    return take_pins();
}

const FormField* open_field(const std::vector<FormField>& fields, const FormDraft& draft) {
    const auto open = std::ranges::find_if(
        fields, [&draft](const FormField& field) { return !draft.answers.contains(field.name); });
    return open == fields.end() ? nullptr : &*open;
}

bool is_answered(const std::vector<FormField>& fields, const FormDraft& draft) {
    return open_field(fields, draft) == nullptr;
}

bool draw_form(Touch& touch, std::string_view name, const std::vector<FormField>& fields, FormDraft& draft,
               const FormConfirm& confirm) {
    const Scope scope(touch, name);
    if (const FormField* open = open_field(fields, draft)) {
        ask(touch, *open, draft);
        show_answered(touch, fields, draft);
        return false;
    }
    show_answered(touch, fields, draft);
    return show_confirm(touch, confirm);
}

} // namespace crossarm::ui
