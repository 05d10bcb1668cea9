#include "checklist/visit/check_value.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::visit {

namespace {

using model::Checkpoint;
using model::Phrase;
using model::Value;

std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(
        std::ranges::count_if(text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

Phrase wrong_kind(const Checkpoint& checkpoint) {
    return {"refused.wrong_kind", {{"title", checkpoint.title}}};
}

std::optional<Phrase> check_reading(const Checkpoint& checkpoint, model::Quantity reading, model::Unit unit,
                                    const model::Range& hard) {
    if (reading.unit != unit || !std::isfinite(reading.value)) {
        return wrong_kind(checkpoint);
    }
    if (!hard.holds(reading.value)) {
        return Phrase{"refused.impossible",
                      {{"title", checkpoint.title},
                       {"value", reading},
                       {"low", model::Quantity{hard.low, unit}},
                       {"high", model::Quantity{hard.high, unit}}}};
    }
    return std::nullopt;
}

struct CheckKind {
    const Checkpoint& checkpoint;
    const Value& value;
    const model::Register& reg;

    std::optional<Phrase> operator()(const model::GradeInput& input) const {
        const auto* grade = std::get_if<model::Grade>(&value);
        if (grade == nullptr) {
            return wrong_kind(checkpoint);
        }
        const std::string* text = *grade == model::Grade::Sound    ? &input.sound
                                  : *grade == model::Grade::Watch  ? &input.watch
                                  : *grade == model::Grade::Repair ? &input.repair
                                                                   : &input.danger;
        return text->empty() ? std::optional(wrong_kind(checkpoint)) : std::nullopt;
    }
    std::optional<Phrase> operator()(const model::ChoiceInput& input) const {
        const auto* choice = std::get_if<model::Choice>(&value);
        const bool known = choice != nullptr && choice->picked.size() == 1 &&
                           std::ranges::find(input.options, choice->picked.front(), &model::Option::id) !=
                               input.options.end();
        return known ? std::nullopt : std::optional(wrong_kind(checkpoint));
    }
    std::optional<Phrase> operator()(const model::PeopleInput& input) const {
        const auto* choice = std::get_if<model::Choice>(&value);
        if (choice == nullptr) {
            return wrong_kind(checkpoint);
        }
        const bool known = std::ranges::all_of(
            choice->picked, [&](const std::string& id) { return reg.person(id) != nullptr; });
        if (!known || std::ssize(choice->picked) < input.at_least) {
            return Phrase{"refused.people",
                          {{"title", checkpoint.title}, {"least", std::to_string(input.at_least)}}};
        }
        return std::nullopt;
    }
    std::optional<Phrase> operator()(const model::NumberInput& input) const {
        const auto* reading = std::get_if<model::Quantity>(&value);
        return reading == nullptr ? std::optional(wrong_kind(checkpoint))
                                  : check_reading(checkpoint, *reading, input.unit, input.hard);
    }
    std::optional<Phrase> operator()(const model::NumbersInput& input) const {
        const auto* readings = std::get_if<model::Readings>(&value);
        if (readings == nullptr || readings->values.size() != input.names.size()) {
            return Phrase{"refused.count",
                          {{"title", checkpoint.title}, {"count", std::to_string(input.names.size())}}};
        }
        for (const model::Quantity& reading : readings->values) {
            if (auto wrong = check_reading(checkpoint, reading, input.unit, input.hard)) {
                return wrong;
            }
        }
        return std::nullopt;
    }
    std::optional<Phrase> operator()(const model::TextInput& input) const {
        const auto* remark = std::get_if<model::Remark>(&value);
        if (remark == nullptr || is_blank(remark->text)) {
            return Phrase{"refused.blank", {{"title", checkpoint.title}}};
        }
        if (characters(remark->text) > static_cast<std::size_t>(input.at_most)) {
            return Phrase{"refused.too_long",
                          {{"title", checkpoint.title}, {"most", std::to_string(input.at_most)}}};
        }
        return std::nullopt;
    }
};

} // namespace

bool is_blank(const std::string& text) {
    return text.find_first_not_of(" \t\r\n") == std::string::npos;
}

bool is_unusual(const Checkpoint& checkpoint, const Value& value) {
    if (const auto* input = std::get_if<model::NumberInput>(&checkpoint.input)) {
        const auto* reading = std::get_if<model::Quantity>(&value);
        return reading != nullptr && !input->usual.holds(reading->value);
    }
    if (const auto* input = std::get_if<model::NumbersInput>(&checkpoint.input)) {
        const auto* readings = std::get_if<model::Readings>(&value);
        return readings != nullptr && std::ranges::any_of(readings->values, [&](const model::Quantity& one) {
                   return !input->usual.holds(one.value);
               });
    }
    return false;
}

std::optional<Phrase> check_value(const Checkpoint& checkpoint, const model::Finding& finding,
                                  const model::Register& reg) {
    if (const auto* out = std::get_if<model::OutOfReach>(&finding.value)) {
        if (!checkpoint.may_be_out_of_reach) {
            return Phrase{"refused.must_be_seen", {{"title", checkpoint.title}}};
        }
        return is_blank(out->reason) ? std::optional(Phrase{"refused.reason", {{"title", checkpoint.title}}})
                                     : std::nullopt;
    }
    if (std::holds_alternative<model::NotFitted>(finding.value)) {
        return checkpoint.may_be_not_fitted ? std::nullopt : std::optional(wrong_kind(checkpoint));
    }
    if (auto wrong = std::visit(CheckKind{checkpoint, finding.value, reg}, checkpoint.input)) {
        return wrong;
    }
    if (is_unusual(checkpoint, finding.value) && is_blank(finding.insisted)) {
        return Phrase{"refused.unusual", {{"title", checkpoint.title}}};
    }
    return std::nullopt;
}

} // namespace crossarm::visit
