// A visit that lives in memory only: intents go in, entries pile up, no store and no screen.
#pragma once

#include "checklist/visit/decide.hpp"
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

    [[nodiscard]] visit::State state() const { return visit::fold(entries); }
    [[nodiscard]] visit::Ground ground() const { return {protocol, reg, limits, 1, head}; }
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
        entry.at = {1'790'000'000'000 + number_ * 1000, 0};
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
        record("arrive.people", model::Choice{{"doer", "mate"}});
        mean(visit::FinishStage{"arrive"});
    }
    void permit(int earths = 2) {
        record("permit.number", model::Remark{"QV 7"});
        record("permit.holder", model::Choice{{"doer"}});
        for (const char* step : {"permit.proved", "permit.dead", "permit.proved_after"}) {
            record(step, model::Choice{{"yes"}});
        }
        record("permit.earths", model::Quantity{static_cast<double>(earths), model::Unit::One});
        record("permit.accepted", model::Choice{{"yes"}});
        mean(visit::FinishStage{"permit"});
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
    void restore(int earths = 2) {
        record("restore.handed_back", model::Choice{{"yes"}});
        record("restore.earths_off", model::Quantity{static_cast<double>(earths), model::Unit::One});
        record("restore.energise", model::Choice{{"yes"}});
        mean(visit::FinishStage{"restore"});
    }

    std::string head;

private:
    int number_ = 0;
    std::int64_t seq_ = 0;
};

} // namespace crossarm::tests
