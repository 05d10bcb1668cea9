// Stage order and locks: what may be done now, and what is missing.
#include "checklist/visit/state.hpp"

#include <algorithm>

namespace crossarm::visit {

namespace {

using model::Checkpoint;
using model::Phrase;

// What keeps one checkpoint from counting as done; nothing when it is.
std::optional<Missing> open_at(const Setting& setting, const State& state, const Checkpoint& checkpoint) {
    if (!is_asked(checkpoint, setting.structure, state)) {
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
    return std::nullopt;
}

void add_briefing(const Setting& setting, const State& state, std::vector<Missing>& out) {
    if (const auto open = not_briefed(setting.protocol, state)) {
        for (const std::string& person : *open) {
            out.push_back({"", Phrase{"missing.briefed", {{"person", person}}}, "brief"});
        }
    }
}

// The steps of the permit up to the one that is `last`, or those behind it.
void add_steps(const Setting& setting, const State& state, bool up_to_accept, std::vector<Missing>& out) {
    bool before = true;
    for (const permit::Step& step : permit::steps(state.permit, setting.rules, setting.now)) {
        if (before == up_to_accept && !step.done && step.id != "locks") {
            Phrase why = step.missing ? step.missing->why : Phrase{"missing.permit_step." + step.id, {}};
            if (out.empty() || out.back().why != why) { // what two steps wait for is said once
                out.push_back({"", std::move(why), step.id});
            }
        }
        before = before && step.id != "accept";
    }
}

// In a read-then-do stage: the first step before `checkpoint` that is not done.
std::optional<Missing> step_before(const Setting& setting, const State& state, const Checkpoint& checkpoint) {
    for (const Checkpoint& other : setting.protocol.checkpoints) {
        if (other.id == checkpoint.id) {
            return std::nullopt;
        }
        if (other.stage == checkpoint.stage && open_at(setting, state, other)) {
            return Missing{other.id, Phrase{"locked.step", {{"title", other.title}}}};
        }
    }
    return std::nullopt;
}

// Readings near live parts wait until everybody knows what can hurt.
std::optional<Missing> briefing_before(const Setting& setting, const State& state,
                                       const Checkpoint& checkpoint) {
    if (checkpoint.stage != "brief" || checkpoint.part.empty()) {
        return std::nullopt;
    }
    const auto open = not_briefed(setting.protocol, state);
    if (!open) {
        return Missing{setting.protocol.keys.crew, Phrase{"locked.crew", {}}};
    }
    if (open->empty()) {
        return std::nullopt;
    }
    return Missing{"", Phrase{"locked.brief", {{"person", open->front()}}}, "brief"};
}

} // namespace

std::optional<std::vector<std::string>> not_briefed(const model::Protocol& protocol, const State& state) {
    const Answer* answer = answer_at(state, protocol.keys.crew);
    const auto* crew = answer == nullptr ? nullptr : std::get_if<model::Choice>(&answer->finding.value);
    if (crew == nullptr) {
        return std::nullopt;
    }
    std::vector<std::string> out;
    for (const std::string& person : crew->picked) {
        if (!state.permit.briefed.contains(person)) {
            out.push_back(person);
        }
    }
    return out;
}

std::vector<Missing> missing_for_stage(const Setting& setting, const State& state, std::string_view stage) {
    std::vector<Missing> out;
    if (stage == "permit" && !permit::ever_accepted(state.permit)) {
        add_steps(setting, state, true, out);
    }
    if (stage == "restore" && !permit::is_closed(state.permit)) {
        add_steps(setting, state, false, out);
        if (out.empty()) {
            out.push_back({"", Phrase{"missing.not_closed", {}}, "cancel"});
        }
    }
    for (const Checkpoint& checkpoint : setting.protocol.checkpoints) {
        if (checkpoint.stage == stage) {
            if (auto open = open_at(setting, state, checkpoint)) {
                out.push_back(std::move(*open));
            }
            if (checkpoint.id == setting.protocol.keys.crew) {
                add_briefing(setting, state, out);
            }
        }
    }
    return out;
}

bool is_complete(const Setting& setting, const State& state, const std::string& stage) {
    if (stage == "sign_off") {
        return state.signature.has_value();
    }
    if (stage == "hand_over") {
        return false; // its end is the office's word, which no entry of the visit can hold
    }
    if (stage == "permit") {
        return permit::ever_accepted(state.permit);
    }
    return state.finished.contains(stage) && missing_for_stage(setting, state, stage).empty();
}

std::size_t current_stage(const Setting& setting, const State& state) {
    const model::Protocol& protocol = setting.protocol;
    if (!state.broken_off.empty()) {
        // What was switched off and earthed is put back, whatever the work had come to.
        const bool to_restore = permit::has_begun(state.permit) && !is_complete(setting, state, "restore");
        return protocol.stage_index(state.signature ? "hand_over" : to_restore ? "restore" : "sign_off");
    }
    for (std::size_t i = 0; i < protocol.stages.size(); ++i) {
        if (!is_complete(setting, state, protocol.stages[i].id)) {
            return i;
        }
    }
    return protocol.stages.size();
}

std::optional<Missing> locked(const Setting& setting, const State& state, const std::string& checkpoint_id) {
    const model::Protocol& protocol = setting.protocol;
    const Checkpoint* checkpoint = protocol.checkpoint(checkpoint_id);
    model::require(checkpoint != nullptr, "locked() is asked about a checkpoint of the protocol");
    if (state.signature) {
        return Missing{"", Phrase{"locked.signed", {}}};
    }
    const std::size_t now = current_stage(setting, state);
    if (!state.broken_off.empty() && protocol.stage_index(checkpoint->stage) != now) {
        return Missing{"", Phrase{"locked.broken_off", {}}};
    }
    if (protocol.stage_index(checkpoint->stage) > now) {
        const auto missing = missing_for_stage(setting, state, protocol.stages[now].id);
        Missing out{"", Phrase{"locked.stage", {{"stage", protocol.stages[now].title}}}};
        if (!missing.empty()) {
            out.checkpoint = missing.front().checkpoint;
            out.step = missing.front().step;
        }
        return out;
    }
    const model::Part* part = protocol.part(checkpoint->part);
    if (part != nullptr && part->beyond_reach && checkpoint->stage == "work" &&
        !permit::in_force(state.permit, setting.rules, setting.now)) {
        return Missing{"", Phrase{"locked.permit", {{"part", part->title}}}, "accept"};
    }
    if (auto briefing = briefing_before(setting, state, *checkpoint)) {
        return briefing;
    }
    if (checkpoint->id == protocol.keys.energise) {
        if (const auto bar = permit::bars_supply(state.permit, /*locks=*/false)) {
            return Missing{"", bar->why, bar->step};
        }
    }
    const model::Stage* stage = protocol.stage(checkpoint->stage);
    if (stage != nullptr && stage->order == model::Order::ReadThenDo) {
        return step_before(setting, state, *checkpoint);
    }
    return std::nullopt;
}

} // namespace crossarm::visit
