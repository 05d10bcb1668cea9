// Stage order, locks and the band: what may be done now, and what is missing.
#include "checklist/visit/state.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::visit {

namespace {

using model::Checkpoint;
using model::Phrase;
using model::Protocol;
using model::Structure;

std::string title_of(const Protocol& protocol, const std::string& checkpoint) {
    const Checkpoint* found = protocol.checkpoint(checkpoint);
    return found == nullptr ? checkpoint : found->title;
}

// A step of a chain counts only when it was done after the step before it, and after the last time that the
// chain was stopped. Steps recorded on two tablets cannot be put in order and are taken as they are.
bool must_be_done_again(const Protocol& protocol, const State& state, const Checkpoint& checkpoint,
                        const Answer& answer) {
    if (checkpoint.chain.empty()) {
        return false;
    }
    if (const auto stopped = state.stopped_chains.find(checkpoint.chain);
        stopped != state.stopped_chains.end()) {
        const auto here = stopped->second.find(answer.device);
        if (here != stopped->second.end() && here->second > answer.seq) {
            return true;
        }
    }
    for (const Checkpoint& other : protocol.checkpoints) {
        if (other.id == checkpoint.id) {
            break;
        }
        const Answer* before = other.chain == checkpoint.chain ? answer_at(state, other.id) : nullptr;
        if (before != nullptr && before->device == answer.device && before->seq > answer.seq) {
            return true;
        }
    }
    return false;
}

// What keeps one checkpoint from counting as done; nothing when it is.
std::optional<Missing> open_at(const Protocol& protocol, const Structure& structure, const State& state,
                               const Checkpoint& checkpoint) {
    if (!is_asked(checkpoint, structure, state)) {
        return std::nullopt;
    }
    const Answer* answer = answer_at(state, checkpoint.id);
    if (answer == nullptr) {
        if (!checkpoint.needed) {
            return std::nullopt;
        }
        return Missing{checkpoint.id, Phrase{"missing.unseen", {{"title", checkpoint.title}}}};
    }
    const model::Option* option = picked_option(checkpoint, *answer);
    if (option != nullptr && !option->stops.empty()) {
        return Missing{checkpoint.id,
                       Phrase{"missing.stops", {{"title", checkpoint.title}, {"why", option->stops}}}};
    }
    if (must_be_done_again(protocol, state, checkpoint, *answer)) {
        return Missing{checkpoint.id, Phrase{"missing.again", {{"title", checkpoint.title}}}};
    }
    if (!checkpoint.must_equal.empty()) {
        const std::optional<double> here = number_at(state, checkpoint.id);
        std::optional<double> there = number_at(state, checkpoint.must_equal);
        if (!there && !state.broken_off.empty()) {
            there = 0.0; // never recorded before the visit was broken off: none can be outstanding
        }
        if (!here || !there || std::fabs(*here - *there) > 1e-9) {
            return Missing{checkpoint.id,
                           Phrase{"missing.must_equal",
                                  {{"title", checkpoint.title},
                                   {"here", here ? model::number_for_people(*here) : "?"},
                                   {"other", title_of(protocol, checkpoint.must_equal)},
                                   {"there", there ? model::number_for_people(*there) : "?"}}}};
        }
    }
    return std::nullopt;
}

bool is_complete(const Protocol& protocol, const Structure& structure, const State& state,
                 const std::string& stage) {
    if (stage == "sign_off") {
        return state.signature.has_value();
    }
    if (stage == "hand_over") {
        return false; // its end is the office's word, which no entry of the visit can hold
    }
    return state.finished.contains(stage) && missing_for_stage(protocol, structure, state, stage).empty();
}

// In a read-then-do stage: the first step before `checkpoint` that is not done.
std::optional<Missing> step_before(const Protocol& protocol, const Structure& structure, const State& state,
                                   const Checkpoint& checkpoint) {
    for (const Checkpoint& other : protocol.checkpoints) {
        if (other.id == checkpoint.id) {
            return std::nullopt;
        }
        if (other.stage == checkpoint.stage) {
            if (auto open = open_at(protocol, structure, state, other)) {
                return Missing{other.id, Phrase{"locked.step", {{"title", other.title}}}};
            }
        }
    }
    return std::nullopt;
}

} // namespace

std::vector<Missing> missing_for_stage(const Protocol& protocol, const Structure& structure,
                                       const State& state, std::string_view stage) {
    std::vector<Missing> out;
    for (const Checkpoint& checkpoint : protocol.checkpoints) {
        if (checkpoint.stage == stage) {
            if (auto open = open_at(protocol, structure, state, checkpoint)) {
                out.push_back(std::move(*open));
            }
        }
    }
    return out;
}

bool has_begun_isolating(const Protocol& protocol, const State& state) {
    const Checkpoint* accepted = protocol.checkpoint(protocol.keys.permit_accepted);
    return accepted != nullptr && state.begun.contains(accepted->stage);
}

std::size_t current_stage(const Protocol& protocol, const Structure& structure, const State& state) {
    if (!state.broken_off.empty()) {
        // What was switched off and earthed is put back, whatever the work had come to.
        const bool restored = is_complete(protocol, structure, state, "restore");
        return protocol.stage_index(state.signature                                     ? "hand_over"
                                    : has_begun_isolating(protocol, state) && !restored ? "restore"
                                                                                        : "sign_off");
    }
    for (std::size_t i = 0; i < protocol.stages.size(); ++i) {
        if (!is_complete(protocol, structure, state, protocol.stages[i].id)) {
            return i;
        }
    }
    return protocol.stages.size();
}

Band band(const Protocol& protocol, const Structure& structure, const State& state) {
    Band out;
    const Answer* accepted = answer_at(state, protocol.keys.permit_accepted);
    const Checkpoint* accepted_at = protocol.checkpoint(protocol.keys.permit_accepted);
    const std::optional<double> earths = number_at(state, protocol.keys.earths_on);
    const Answer* handed_back = answer_at(state, protocol.keys.handed_back);
    if (accepted == nullptr || accepted_at == nullptr || !earths || *earths < 1.0 || handed_back != nullptr) {
        return out;
    }
    if (!is_complete(protocol, structure, state, accepted_at->stage)) {
        return out;
    }
    out.permit_in_force = true;
    out.earths_on = static_cast<int>(*earths);
    const auto words_at = [&](const std::string& checkpoint) -> std::string {
        const Answer* answer = answer_at(state, checkpoint);
        if (answer == nullptr) {
            return {};
        }
        if (const auto* remark = std::get_if<model::Remark>(&answer->finding.value)) {
            return remark->text;
        }
        const auto* choice = std::get_if<model::Choice>(&answer->finding.value);
        return choice == nullptr ? std::string() : choice->picked.front();
    };
    out.permit = words_at(protocol.keys.permit_number);
    out.holder = words_at(protocol.keys.permit_holder);
    return out;
}

std::optional<Missing> locked(const Protocol& protocol, const Structure& structure, const State& state,
                              const std::string& checkpoint_id) {
    const Checkpoint* checkpoint = protocol.checkpoint(checkpoint_id);
    model::require(checkpoint != nullptr, "locked() is asked about a checkpoint of the protocol");
    if (state.signature) {
        return Missing{"", Phrase{"locked.signed", {}}};
    }
    const std::size_t now = current_stage(protocol, structure, state);
    if (!state.broken_off.empty() && protocol.stage_index(checkpoint->stage) != now) {
        return Missing{"", Phrase{"locked.broken_off", {}}};
    }
    if (protocol.stage_index(checkpoint->stage) > now) {
        const auto missing = missing_for_stage(protocol, structure, state, protocol.stages[now].id);
        return Missing{missing.empty() ? "" : missing.front().checkpoint,
                       Phrase{"locked.stage", {{"stage", protocol.stages[now].title}}}};
    }
    const model::Part* part = protocol.part(checkpoint->part);
    if (part != nullptr && part->beyond_reach && checkpoint->stage == "work" &&
        !band(protocol, structure, state).permit_in_force) {
        return Missing{protocol.keys.permit_accepted, Phrase{"locked.permit", {{"part", part->title}}}};
    }
    const model::Stage* stage = protocol.stage(checkpoint->stage);
    if (stage != nullptr && stage->order == model::Order::ReadThenDo) {
        return step_before(protocol, structure, state, *checkpoint);
    }
    return std::nullopt;
}

} // namespace crossarm::visit
