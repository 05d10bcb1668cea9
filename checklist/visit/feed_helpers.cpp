#include "checklist/visit/feed_helpers.hpp"

#include "checklist/model/result.hpp"

namespace crossarm::visit {

const model::Value* value_at(const State& state, const std::string& checkpoint) {
    const Answer* answer = answer_at(state, checkpoint);
    return answer == nullptr ? nullptr : &answer->finding.value;
}

std::optional<double> number_of(const model::Value& value) {
    const auto* quantity = std::get_if<model::Quantity>(&value);
    return quantity == nullptr ? std::nullopt : std::optional(quantity->value);
}

std::string picked_of(const model::Value& value) {
    const auto* choice = std::get_if<model::Choice>(&value);
    return choice == nullptr || choice->picked.empty() ? std::string() : choice->picked.front();
}

std::string picked_at(const State& state, const std::string& checkpoint) {
    const model::Value* value = value_at(state, checkpoint);
    return value == nullptr ? std::string() : picked_of(*value);
}

std::vector<double> numbers_of(const model::Value& value) {
    std::vector<double> out;
    if (const auto* readings = std::get_if<model::Readings>(&value)) {
        for (const model::Quantity& one : readings->values) {
            out.push_back(one.value);
        }
    } else if (const auto one = number_of(value)) {
        out.push_back(*one);
    }
    return out;
}

rules::Outcome no_limits(std::string_view subject) {
    return rules::no_verdict(subject, "no.limits", {{"subject", std::string(subject)}});
}

rules::Outcome worst_of(const std::vector<rules::Outcome>& outcomes) {
    model::require(!outcomes.empty(), "the worst of no outcome");
    const rules::Outcome* worst = nullptr;
    const rules::Outcome* refused = nullptr;
    model::Grade grade = model::Grade::Sound;
    for (const rules::Outcome& one : outcomes) {
        const auto* verdict = std::get_if<model::Verdict>(&one);
        if (verdict == nullptr) {
            refused = refused == nullptr ? &one : refused;
        } else if (worst == nullptr || verdict->grade > grade) {
            worst = &one;
            grade = verdict->grade;
        }
    }
    return refused != nullptr && grade == model::Grade::Sound ? *refused : *worst;
}

} // namespace crossarm::visit
