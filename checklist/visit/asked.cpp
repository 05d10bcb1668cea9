// Which checkpoints a visit asks, and what an answer's option says.
#include "checklist/visit/state.hpp"

#include <algorithm>

namespace crossarm::visit {

namespace {

// A plate fact as the word a protocol's condition compares with.
std::string plate_fact(const model::Nameplate& plate, const std::string& fact) {
    if (fact == "conservator") {
        return plate.conservator ? "yes" : "no";
    }
    if (fact == "breather") {
        return plate.breather;
    }
    if (fact == "hv_fuse") {
        return plate.hv_fuse.empty() ? "" : "fitted";
    }
    return {};
}

bool contains(const std::vector<std::string>& list, const std::string& word) {
    return std::ranges::find(list, word) != list.end();
}

bool holds(const model::Condition& condition, const model::Structure& structure, const State& state) {
    if (!condition.nameplate.empty()) {
        return contains(condition.is, plate_fact(structure.plate, condition.nameplate));
    }
    const auto answer = state.answers.find(condition.checkpoint);
    if (answer == state.answers.end()) {
        return false;
    }
    const model::Value& value = answer->second.finding.value;
    if (const auto* choice = std::get_if<model::Choice>(&value)) {
        return std::ranges::any_of(choice->picked,
                                   [&](const auto& picked) { return contains(condition.any_of, picked); });
    }
    const auto* grade = std::get_if<model::Grade>(&value);
    return grade != nullptr && contains(condition.any_of, std::string(name(*grade)));
}

} // namespace

const Answer* answer_at(const State& state, const std::string& checkpoint) {
    const auto found = state.answers.find(checkpoint);
    return found == state.answers.end() ? nullptr : &found->second;
}

std::optional<double> number_at(const State& state, const std::string& checkpoint) {
    const Answer* answer = answer_at(state, checkpoint);
    const auto* quantity = answer == nullptr ? nullptr : std::get_if<model::Quantity>(&answer->finding.value);
    return quantity == nullptr ? std::nullopt : std::optional(quantity->value);
}

const model::Option* picked_option(const model::Checkpoint& checkpoint, const Answer& answer) {
    const auto* choice = std::get_if<model::Choice>(&answer.finding.value);
    const auto* input = std::get_if<model::ChoiceInput>(&checkpoint.input);
    if (choice == nullptr || input == nullptr || choice->picked.size() != 1) {
        return nullptr;
    }
    const auto found = std::ranges::find(input->options, choice->picked.front(), &model::Option::id);
    return found == input->options.end() ? nullptr : &*found;
}

bool is_asked(const model::Checkpoint& checkpoint, const model::Structure& structure, const State& state) {
    return std::ranges::all_of(checkpoint.asked_when, [&](const model::Condition& condition) {
        return holds(condition, structure, state);
    });
}

} // namespace crossarm::visit
