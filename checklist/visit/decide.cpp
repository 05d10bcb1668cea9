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

Refusal refuse(const Missing& missing) {
    return {missing.why, missing.checkpoint, missing.step};
}

Refusal refuse(const permit::Refusal& refusal) {
    return {refusal.why, "", refusal.step};
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
        if (returns_supply(intent.finding)) {
            if (const auto bar = permit::bars_supply(state.permit)) {
                return refuse(*bar);
            }
        }
        model::Found found{intent.finding, std::nullopt};
        if (const auto before = state.answers.find(checkpoint->id); before != state.answers.end()) {
            if (before->second.finding == intent.finding) {
                return std::vector<Body>{}; // the same answer again is no news
            }
            found.replaces = before->second.entry;
        }
        return std::vector<Body>{std::move(found)};
    }

    [[nodiscard]] bool returns_supply(const model::Finding& finding) const {
        const auto* choice = std::get_if<model::Choice>(&finding.value);
        return finding.checkpoint == ground.protocol.keys.energise &&
               (choice == nullptr || choice->picked != std::vector{ground.protocol.keys.stays_off});
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
        const Setting setting = setting_of(ground, state);
        const std::size_t now = current_stage(setting, state);
        if (now >= ground.protocol.stages.size() || ground.protocol.stages[now].id != intent.stage ||
            intent.stage == "permit" || intent.stage == "sign_off" || intent.stage == "hand_over") {
            return refuse("refused.not_this_stage");
        }
        const auto missing = missing_for_stage(setting, state, intent.stage);
        if (!missing.empty()) {
            return refuse(missing.front());
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

    Decided operator()(const ActOnPermit& intent) const {
        if (auto why = too_early(intent.act)) {
            return *why;
        }
        const Setting setting = setting_of(ground, state);
        const permit::Powers powers = permit::powers_on(ground.reg, model::day_of(ground.now));
        if (const auto why = permit::refusal(
                {setting.rules, powers, state.permit, intent.act, who, ground.now, state.structure})) {
            return refuse(*why);
        }
        return std::vector<Body>{model::PermitActed{intent.act}};
    }

    // Where the visit bars an act of the permit. What leads back to supply is never barred here.
    [[nodiscard]] std::optional<Refusal> too_early(const model::permit::Act& act) const {
        using namespace model::permit;
        if (state.signature) {
            return refuse("locked.signed");
        }
        const bool begins = std::holds_alternative<Prepared>(act) || std::holds_alternative<Issued>(act) ||
                            std::holds_alternative<Resumed>(act) || std::holds_alternative<SignedOn>(act);
        if (!state.broken_off.empty()) {
            return begins ? std::optional(refuse("locked.broken_off")) : std::nullopt;
        }
        const bool briefs = std::holds_alternative<Briefed>(act);
        if (!begins && !briefs && !std::holds_alternative<Accepted>(act)) {
            return std::nullopt;
        }
        const Setting setting = setting_of(ground, state);
        for (const model::Stage& stage : ground.protocol.stages) {
            if (stage.id == (briefs ? "brief" : "permit")) {
                break;
            }
            if (is_complete(setting, state, stage.id)) {
                continue;
            }
            const auto missing = missing_for_stage(setting, state, stage.id);
            return missing.empty() ? Refusal{Phrase{"missing.stage", {{"stage", stage.title}}}, ""}
                                   : refuse(missing.front());
        }
        return std::nullopt;
    }

    Decided operator()(const SignVisit& intent) const {
        const model::Person* person = ground.reg.person(who);
        if (person == nullptr || !person->is("lead")) {
            return refuse("refused.lead_only");
        }
        if (!person->may("sign_visit", model::day_of(ground.now))) {
            return refuse("refused.may_not_sign");
        }
        if (state.doers.contains(who)) {
            return refuse("refused.signer_is_doer");
        }
        const auto missing = missing_for_signing(ground, state);
        if (!missing.empty()) {
            return refuse(missing.front());
        }
        if (intent.head.empty() || intent.head != ground.head) {
            return refuse("refused.stale_head");
        }
        return std::vector<Body>{model::Signed{intent.head, intent.words, intent.strokes}};
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

Setting setting_of(const Ground& ground, const State& state) {
    const model::Structure& structure = structure_of(ground, state);
    return {ground.protocol, structure, permit::rules_from(ground.limits, structure), ground.now};
}

std::optional<Refusal> why_not(const Ground& ground, const State& state,
                               const std::vector<std::string>& undecided, const std::string& checkpoint) {
    if (const auto lock = locked(setting_of(ground, state), state, checkpoint)) {
        return refuse(*lock);
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
           current_stage(setting_of(ground, state), state) <= ground.protocol.stage_index("restore");
}

std::vector<Missing> missing_for_signing(const Ground& ground, const State& state) {
    std::vector<Missing> out;
    const Setting setting = setting_of(ground, state);
    if (state.signature) {
        out.push_back({"", Phrase{"locked.signed", {}}});
        return out;
    }
    const bool only_restore = !state.broken_off.empty();
    if (!only_restore || permit::has_begun(state.permit)) {
        for (const model::Stage& stage : ground.protocol.stages) {
            if (stage.id == "sign_off") {
                break;
            }
            if (only_restore && stage.id != "restore") {
                continue;
            }
            const auto missing = missing_for_stage(setting, state, stage.id);
            out.insert(out.end(), missing.begin(), missing.end());
            if (missing.empty() && !is_complete(setting, state, stage.id)) {
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
    const auto* on_permit = std::get_if<ActOnPermit>(&intent);
    const bool stops_work =
        on_permit != nullptr && std::holds_alternative<model::permit::Suspended>(on_permit->act);
    if (ground.reg.person(who) == nullptr && !(stops_work && who.empty())) {
        return refuse("refused.unknown_person");
    }
    const bool opens = std::holds_alternative<OpenVisit>(intent);
    if (!opens && !state.visit) {
        return refuse("refused.not_open");
    }
    return std::visit(Decider{ground, state, who}, intent);
}

} // namespace crossarm::visit
