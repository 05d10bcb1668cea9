// A visit that lives in memory only: intents go in, entries pile up, no store and no screen.
#pragma once

#include "checklist/visit/decide.hpp"
#include "tests/support/permit_acts.hpp"
#include "tests/support/sample_protocol.hpp"

#include <string>
#include <vector>

namespace crossarm::tests {

class PaperVisit {
public:
    model::Protocol protocol = small_protocol();
    model::Register reg = small_register();
    model::LimitLibrary limits;
    std::vector<model::Entry> entries;
    std::string device = "tablet-1";

    PermitPeople people;
    model::Timestamp clock{1'790'000'000'000, 0}; ///< of the next intent; every entry takes it on by 1 s

    [[nodiscard]] visit::State state() const {
        return visit::fold(entries, visit::permit::rules_from(limits, structure()));
    }
    [[nodiscard]] visit::Ground ground() const { return {protocol, reg, limits, 1, head, clock}; }
    [[nodiscard]] visit::Setting setting() const { return visit::setting_of(ground(), state()); }
    [[nodiscard]] visit::Band band() const { return visit::band(state().permit, setting().rules, clock); }
    [[nodiscard]] bool in_force() const { return band().in_force(); }
    [[nodiscard]] const model::Structure& structure() const { return reg.structures.front(); }

    /// The key of the refusal, or "" when the intent made entries (or nothing new).
    std::string mean(const visit::Intent& intent, const std::string& who = "doer") {
        const visit::Decided decided = visit::decide(ground(), state(), intent, who);
        if (const auto* refusal = std::get_if<visit::Refusal>(&decided)) {
            return refusal->why.key;
        }
        for (const model::Body& body : std::get<std::vector<model::Body>>(decided)) {
            append(body, who);
        }
        return "";
    }
    std::string record(const std::string& checkpoint, model::Value value, const std::string& who = "doer",
                       const std::string& insisted = "") {
        const model::Checkpoint* at = protocol.checkpoint(checkpoint);
        return mean(
            visit::Record{{at == nullptr ? "" : at->part, checkpoint, std::move(value), insisted, ""}}, who);
    }
    void append(const model::Body& body, const std::string& who) {
        model::Entry entry;
        ++number_;
        entry.id.bytes[14] = static_cast<std::uint8_t>(number_ / 256);
        entry.id.bytes[15] = static_cast<std::uint8_t>(number_ % 256);
        entry.visit.bytes[0] = 7;
        entry.device = device;
        entry.seq = ++seq_;
        entry.at = clock;
        clock.utc_ms += 1000;
        entry.by = who;
        entry.body = body;
        entry.prev = head;
        head = model::hash_of(model::to_canonical(entry));
        entries.push_back(entry);
    }

    // The usual way through, stage by stage.
    void open() { mean(visit::OpenVisit{"QM-0101"}); }
    void arrive() {
        record("arrive.right", model::Choice{{"yes"}});
        record("arrive.position", model::Remark{"by the weir"});
        mean(visit::FinishStage{"arrive"});
    }
    void brief() {
        record("brief.crew", model::Choice{{"doer", "mate"}});
        act(acts::Briefed{"doer"}, "doer");
        act(acts::Briefed{"mate"}, "mate");
        record("ground.load", model::Quantity{80.0, model::Unit::One});
        mean(visit::FinishStage{"brief"});
    }
    std::string act(const acts::Act& one, const std::string& who) {
        return mean(visit::ActOnPermit{one}, who);
    }
    std::string act(const NextAct& one) { return act(one.act, one.by); }
    /// Everything up to the issue.
    void isolate() {
        for (const acts::Act& one : isolating_acts(people)) {
            act(one, people.issuer);
        }
    }
    [[nodiscard]] model::Timestamp in_hours(double hours) const {
        return {clock.utc_ms + static_cast<std::int64_t>(hours * 3'600'000.0), clock.offset_minutes};
    }
    std::string issue(double hours = 8.0, const std::string& party = "A") {
        return act(issuing(state().permit, "QM-0101", people, in_hours(hours), party));
    }
    std::string accept(const std::string& party = "A") {
        return act(accepting(state().permit, "QM-0101", people, party));
    }
    void permit() {
        isolate();
        issue();
        accept();
    }
    std::string hand_back(const std::string& party = "A") {
        return act(handing_back(state().permit, "QM-0101", people, party));
    }
    std::string cancel() { return act(cancelling(state().permit, "QM-0101", people)); }
    void clear(bool locks = true) {
        for (const acts::Act& one : clearing_acts(state().permit, locks)) {
            act(one, people.issuer);
        }
    }
    /// Arrive, brief and permit.
    void up_to_work() {
        arrive();
        brief();
        permit();
    }
    void work(model::Grade top = model::Grade::Sound) {
        record("ground.rust", model::Grade::Watch);
        record("top.damage", top);
        record("top.gap", model::Quantity{3.0, model::Unit::Metre});
        if (top >= model::Grade::Repair) {
            record("top.extra", model::Grade::Sound);
        }
        mean(visit::FinishStage{"work"});
    }
    void close() {
        hand_back();
        cancel();
        clear();
    }
    void restore() {
        close();
        record("restore.energise", model::Choice{{"yes"}});
        mean(visit::FinishStage{"restore"});
    }

    std::string head;

private:
    int number_ = 0;
    std::int64_t seq_ = 0;
};

} // namespace crossarm::tests
