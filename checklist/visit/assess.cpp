#include "checklist/visit/assess.hpp"

#include "checklist/visit/rule_feeds.hpp"

#include <algorithm>

namespace crossarm::visit {

namespace {

using model::Grade;

bool is_a_finding(const model::Value& value) {
    return !std::holds_alternative<model::OutOfReach>(value) &&
           !std::holds_alternative<model::NotFitted>(value);
}

std::optional<Grade> own_grade(const model::Checkpoint& checkpoint, const Answer& answer) {
    if (const auto* grade = std::get_if<Grade>(&answer.finding.value)) {
        return *grade;
    }
    const model::Option* option = picked_option(checkpoint, answer);
    return option == nullptr ? std::nullopt : option->grade;
}

} // namespace

std::vector<Assessed> assess(const model::Protocol& protocol, const model::Structure& structure,
                             const model::Register& reg, const model::LimitLibrary& limits,
                             const State& state) {
    std::vector<Assessed> out;
    for (const model::Checkpoint& checkpoint : protocol.checkpoints) {
        const Answer* answer = answer_at(state, checkpoint.id);
        if (checkpoint.feeds.empty() || answer == nullptr || !is_a_finding(answer->finding.value) ||
            !is_asked(checkpoint, structure, state)) {
            continue;
        }
        const Feed feed{checkpoint, *answer, state, structure, reg, limits};
        if (auto outcome = feed_rule(checkpoint.feeds, feed)) {
            out.push_back({checkpoint.id, std::move(*outcome)});
        }
    }
    return out;
}

std::optional<Grade> grade_at(const model::Protocol& protocol, const State& state,
                              const std::vector<Assessed>& assessed, const std::string& checkpoint_id) {
    const model::Checkpoint* checkpoint = protocol.checkpoint(checkpoint_id);
    const Answer* answer = answer_at(state, checkpoint_id);
    if (checkpoint == nullptr || answer == nullptr) {
        return std::nullopt;
    }
    std::optional<Grade> out = own_grade(*checkpoint, *answer);
    for (const Assessed& one : assessed) {
        const auto* verdict = std::get_if<model::Verdict>(&one.outcome);
        if (one.checkpoint == checkpoint_id && verdict != nullptr) {
            out = out ? worse(*out, verdict->grade) : verdict->grade;
        }
    }
    return out;
}

PartStanding standing(const model::Protocol& protocol, const model::Structure& structure, const State& state,
                      const std::vector<Assessed>& assessed, const std::string& part) {
    PartStanding out;
    for (const model::Checkpoint& checkpoint : protocol.checkpoints) {
        if (checkpoint.part != part || !is_asked(checkpoint, structure, state)) {
            continue;
        }
        ++out.asked;
        const Answer* answer = answer_at(state, checkpoint.id);
        if (answer == nullptr) {
            out.unseen += checkpoint.needed ? 1 : 0;
        } else if (std::holds_alternative<model::OutOfReach>(answer->finding.value)) {
            ++out.out_of_reach;
        } else if (std::holds_alternative<model::NotFitted>(answer->finding.value)) {
            ++out.not_fitted;
        } else if (const auto grade = grade_at(protocol, state, assessed, checkpoint.id)) {
            out.worst = out.worst ? worse(*out.worst, *grade) : *grade;
        }
    }
    return out;
}

std::vector<std::string> undecided_dangers(const model::Protocol& protocol, const State& state,
                                           const std::vector<Assessed>& assessed) {
    std::vector<std::string> out;
    for (const model::Checkpoint& checkpoint : protocol.checkpoints) {
        if (grade_at(protocol, state, assessed, checkpoint.id) != Grade::Danger) {
            continue;
        }
        const model::Id entry = state.answers.at(checkpoint.id).entry;
        if (std::ranges::find(state.decisions, entry, &Decision::entry) == state.decisions.end()) {
            out.push_back(checkpoint.id);
        }
    }
    return out;
}

} // namespace crossarm::visit
