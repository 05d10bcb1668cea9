#include "checklist/visit/decide.hpp"

#include "checklist/visit/check_value.hpp"

#include <algorithm>
#include <array>

namespace crossarm::visit {

namespace {

using model::Body;
using model::Phrase;

constexpr std::array<std::string_view, 3> kDecisions = {"put_right", "supply_stays_off", "may_return"};

Refusal refuse(std::string key, std::string checkpoint = "") {
    return {Phrase{std::move(key), {}}, std::move(checkpoint)};
}

const model::Structure& structure_of(const Ground& ground, const State& state) {
    const model::Structure* found = ground.reg.structure(state.structure);
    model::require(found != nullptr, "a visit's structure is in the register");
    return *found;
}

std::vector<std::string> dangers(const Ground& ground, const State& state) {
    return undecided_dangers(
        ground.protocol, state,
        assess(ground.protocol, structure_of(ground, state), ground.reg, ground.limits, state));
}

struct Decider {
    const Ground& ground;
    const State& state;
    const std::string& who;

    Decided operator()(const OpenVisit& intent) const {
        if (state.visit) {
            return refuse("refused.already_open");
        }
        if (ground.reg.structure(intent.structure) == nullptr) {
            return Refusal{Phrase{"refused.unknown_structure", {{"structure", intent.structure}}}, ""};
        }
        return std::vector<Body>{
            model::Opened{intent.structure, ground.protocol.id, ground.protocol.digest, ground.day_pack}};
    }

    Decided operator()(const Record& intent) const {
        const model::Checkpoint* checkpoint = ground.protocol.checkpoint(intent.finding.checkpoint);
        if (checkpoint == nullptr || checkpoint->part != intent.finding.part ||
            !is_asked(*checkpoint, structure_of(ground, state), state)) {
            return refuse("refused.not_asked");
        }
        if (auto why = why_not(ground, state, dangers(ground, state), checkpoint->id)) {
            return *why;
        }
        if (auto wrong = check_value(*checkpoint, intent.finding, ground.reg)) {
            return Refusal{*wrong, checkpoint->id};
        }
        model::Found found{intent.finding, std::nullopt};
        if (const auto before = state.answers.find(checkpoint->id); before != state.answers.end()) {
            // The same answer again is no news, unless the step has to be done again.
            if (before->second.finding == intent.finding && !is_open(*checkpoint)) {
                return std::vector<Body>{};
            }
            found.replaces = before->second.entry;
        }
        return std::vector<Body>{std::move(found)};
    }

    [[nodiscard]] bool is_open(const model::Checkpoint& checkpoint) const {
        const auto missing =
            missing_for_stage(ground.protocol, structure_of(ground, state), state, checkpoint.stage);
        return std::ranges::find(missing, checkpoint.id, &Missing::checkpoint) != missing.end();
    }

    Decided operator()(const UndoLast&) const {
        if (state.signature) {
            return refuse("locked.signed");
        }
        if (state.undoable.empty()) {
            return refuse("refused.nothing_to_undo");
        }
        // After breaking off only Restore is still open, to undo as to record.
        const auto last = std::ranges::find_if(
            state.answers, [&](const auto& one) { return one.second.entry == state.undoable.back(); });
        const model::Checkpoint* at =
            last == state.answers.end() ? nullptr : ground.protocol.checkpoint(last->first);
        if (!state.broken_off.empty() && (at == nullptr || at->stage != "restore")) {
            return refuse("locked.broken_off");
        }
        return std::vector<Body>{model::Withdrawn{state.undoable.back()}};
    }

    Decided operator()(const FinishStage& intent) const {
        const model::Structure& structure = structure_of(ground, state);
        const std::size_t now = current_stage(ground.protocol, structure, state);
        if (now >= ground.protocol.stages.size() || ground.protocol.stages[now].id != intent.stage ||
            intent.stage == "sign_off" || intent.stage == "hand_over") {
            return refuse("refused.not_this_stage");
        }
        const auto missing = missing_for_stage(ground.protocol, structure, state, intent.stage);
        if (!missing.empty()) {
            return Refusal{missing.front().why, missing.front().checkpoint};
        }
        return std::vector<Body>{model::StageFinished{intent.stage}};
    }

    Decided operator()(const DecideDanger& intent) const {
        const auto answer = state.answers.find(intent.checkpoint);
        if (state.signature || answer == state.answers.end()) {
            return refuse("refused.no_danger_here");
        }
        const model::Person* person = ground.reg.person(who);
        if (person == nullptr || !person->is("lead")) {
            return refuse("refused.lead_only");
        }
        if (answer->second.by == who) {
            return refuse("refused.own_finding");
        }
        if (std::ranges::find(kDecisions, intent.decision) == kDecisions.end() || is_blank(intent.reason)) {
            return Refusal{Phrase{"refused.decision_reason", {}}, intent.checkpoint};
        }
        return std::vector<Body>{
            model::DangerDecided{intent.checkpoint, answer->second.entry, intent.decision, intent.reason}};
    }

    Decided operator()(const ActOnPermit&) const { return refuse("refused.not_asked"); }

    Decided operator()(const SignVisit& intent) const {
        const model::Person* person = ground.reg.person(who);
        if (person == nullptr || !person->is("lead")) {
            return refuse("refused.lead_only");
        }
        if (state.doers.contains(who)) {
            return refuse("refused.signer_is_doer");
        }
        const auto missing = missing_for_signing(ground, state);
        if (!missing.empty()) {
            return Refusal{missing.front().why, missing.front().checkpoint};
        }
        if (intent.head.empty() || intent.head != ground.head) {
            return refuse("refused.stale_head");
        }
        return std::vector<Body>{model::Signed{intent.head, intent.words}};
    }

    Decided operator()(const BreakOff& intent) const {
        if (state.signature || !state.broken_off.empty()) {
            return refuse("refused.already_ended");
        }
        if (is_blank(intent.reason)) {
            return refuse("refused.break_off_reason");
        }
        if (!may_break_off(ground, state)) {
            return refuse("refused.already_restored");
        }
        return std::vector<Body>{model::BrokenOff{intent.reason}};
    }
};

} // namespace

std::optional<Refusal> why_not(const Ground& ground, const State& state,
                               const std::vector<std::string>& undecided, const std::string& checkpoint) {
    const model::Structure& structure = structure_of(ground, state);
    if (const auto lock = locked(ground.protocol, structure, state, checkpoint)) {
        return Refusal{lock->why, lock->checkpoint};
    }
    const model::Checkpoint* asked = ground.protocol.checkpoint(checkpoint);
    const model::Part* part = ground.protocol.part(asked->part);
    if (part != nullptr && part->beyond_reach && asked->stage == "work") {
        for (const std::string& open : undecided) {
            if (const model::Checkpoint* at = ground.protocol.checkpoint(open); at->bars_climbing) {
                return Refusal{Phrase{"locked.climbing", {{"title", at->title}}}, open};
            }
        }
    }
    if (checkpoint == ground.protocol.keys.energise && !undecided.empty()) {
        const model::Checkpoint* at = ground.protocol.checkpoint(undecided.front());
        return Refusal{Phrase{"locked.danger", {{"title", at->title}}}, undecided.front()};
    }
    return std::nullopt;
}

bool may_break_off(const Ground& ground, const State& state) {
    return state.visit && !state.signature && state.broken_off.empty() &&
           current_stage(ground.protocol, structure_of(ground, state), state) <=
               ground.protocol.stage_index("restore");
}

std::vector<Missing> missing_for_signing(const Ground& ground, const State& state) {
    std::vector<Missing> out;
    const model::Structure& structure = structure_of(ground, state);
    if (state.signature) {
        out.push_back({"", Phrase{"locked.signed", {}}});
        return out;
    }
    const bool only_restore = !state.broken_off.empty();
    if (!only_restore || has_begun_isolating(ground.protocol, state)) {
        for (const model::Stage& stage : ground.protocol.stages) {
            if (stage.id == "sign_off") {
                break;
            }
            if (only_restore && stage.id != "restore") {
                continue;
            }
            const auto missing = missing_for_stage(ground.protocol, structure, state, stage.id);
            out.insert(out.end(), missing.begin(), missing.end());
            if (missing.empty() && !state.finished.contains(stage.id)) {
                out.push_back({"", Phrase{"missing.stage", {{"stage", stage.title}}}});
            }
        }
    }
    for (const std::string& checkpoint : dangers(ground, state)) {
        const model::Checkpoint* at = ground.protocol.checkpoint(checkpoint);
        out.push_back({checkpoint, Phrase{"missing.danger", {{"title", at->title}}}});
    }
    return out;
}

Decided decide(const Ground& ground, const State& state, const Intent& intent, const std::string& who) {
    if (ground.reg.person(who) == nullptr) {
        return refuse("refused.unknown_person");
    }
    const bool opens = std::holds_alternative<OpenVisit>(intent);
    if (!opens && !state.visit) {
        return refuse("refused.not_open");
    }
    return std::visit(Decider{ground, state, who}, intent);
}

} // namespace crossarm::visit
