// A whole uprating visit through decide(), with the protocol as shipped: every question answered, the permit
// issued and closed, signed; and its bundle.
#pragma once

#include "checklist/visit/decide.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/permit_acts.hpp"
#include "tests/support/sample_protocol.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/temp_store.hpp"

#include <map>
#include <string>

namespace crossarm::tests {

inline const model::Protocol& uprating_protocol() {
    static const model::Protocol protocol = [] {
        auto read = model::read_protocol(
            read_file(std::string(CROSSARM_SOURCE_DIR) + "/assets/protocols/uprating.json"), "uprating.json");
        REQUIRE(read.ok());
        return *read;
    }();
    return protocol;
}

/// Answers that differ from the first option, the middle of what is usual, Sound, or "as ordered".
using Given = std::map<std::string, model::Value>;

inline Given plate_of_315() {
    using model::Choice;
    using model::Quantity;
    using model::Remark;
    using model::Unit;
    return {{"plate.rating", Quantity{315, Unit::KilovoltAmpere}},
            {"plate.make", Remark{"Norrin Windings"}},
            {"plate.serial", Remark{"NO-26-0417"}},
            {"plate.made_year", Quantity{2026, Unit::One}},
            {"plate.hv", Quantity{11, Unit::Kilovolt}},
            {"plate.lv", Quantity{433, Unit::Volt}},
            {"plate.impedance", Quantity{4.62, Unit::Percent}},
            {"plate.mass", Quantity{1240, Unit::Kilogram}},
            {"plate.oil", Quantity{310, Unit::Litre}},
            {"plate.no_load_loss", Quantity{640, Unit::Watt}},
            {"plate.load_loss", Quantity{3900, Unit::Watt}},
            {"breather.gel_kind", Choice{{"orange"}}},
            {"breather.gel_mass", Quantity{1.2, Unit::Kilogram}},
            {"hv_fuses.fitted", Remark{"25 K"}},
            {"lv_breaker.fitted", Remark{"1 x 500 A ACB"}},
            {"lv_breaker.count", Quantity{1, Unit::One}},
            {"lv_breaker.rating", Quantity{500, Unit::Ampere}},
            {"lv_cable.size", Quantity{240, Unit::SquareMillimetre}},
            {"lv_cable.runs", Choice{{"two"}}},
            {"restore.load",
             model::Readings{
                 {{310, Unit::Ampere}, {290, Unit::Ampere}, {270, Unit::Ampere}, {45, Unit::Ampere}}}}};
}

class UpratingVisit {
public:
    model::Register reg = small_register();
    model::LimitLibrary limits;
    std::vector<model::Entry> entries;
    model::Id id = sample_id(7'000'000);
    std::string device = sample_device(1);

    explicit UpratingVisit(model::Structure at) { reg.structures = {std::move(at)}; }

    /// The key of the refusal, "" when it was taken.
    std::string mean(const visit::Intent& intent, const std::string& who = "doer") {
        const auto decided =
            visit::decide({uprating_protocol(), reg, limits, 3, head_, clock_}, state(), intent, who);
        if (const auto* refusal = std::get_if<visit::Refusal>(&decided)) {
            return refusal->why.key + " " + refusal->checkpoint;
        }
        for (const model::Body& body : std::get<std::vector<model::Body>>(decided)) {
            append(body, who);
        }
        return "";
    }
    [[nodiscard]] visit::State state() const {
        return visit::fold(entries, visit::permit::rules_from(limits, reg.structures.front()));
    }
    /// Everything up to the signature.
    void done(const Given& given = plate_of_315()) {
        REQUIRE(mean(visit::OpenVisit{reg.structures.front().id}).empty());
        stage("arrive", given);
        stage("brief", given);
        for (const acts::Act& one : isolating_acts(people_)) {
            REQUIRE(mean(visit::ActOnPermit{one}, people_.issuer).empty());
        }
        const model::Timestamp until{clock_.utc_ms + 8 * 3'600'000, clock_.offset_minutes};
        act(issuing(state().permit, at(), people_, until));
        act(accepting(state().permit, at(), people_));
        stage("work", given);
        act(handing_back(state().permit, at(), people_));
        act(cancelling(state().permit, at(), people_));
        for (const acts::Act& one : clearing_acts(state().permit)) {
            REQUIRE(mean(visit::ActOnPermit{one}, people_.issuer).empty());
        }
        stage("restore", given);
    }
    [[nodiscard]] std::string sign() { return mean(visit::SignVisit{head_, "Seen"}, "lead"); }

    [[nodiscard]] bundle::Bundle bundle(std::int64_t seq = 1, const std::string& prev = "") const {
        bundle::Bundle out;
        out.device = device;
        out.seq = seq;
        out.prev = prev;
        out.visit = id;
        out.protocol = uprating_protocol().id;
        out.protocol_digest = uprating_protocol().digest;
        out.engine = "0.1.0";
        out.day_pack = 3;
        out.structure = reg.structures.front();
        for (const model::Entry& entry : entries) {
            out.entries.push_back(model::to_canonical(entry));
        }
        return out;
    }

private:
    void act(const NextAct& one) { REQUIRE(mean(visit::ActOnPermit{one.act}, one.by).empty()); }
    [[nodiscard]] const std::string& at() const { return reg.structures.front().id; }

    void append(const model::Body& body, const std::string& who) {
        model::Entry entry;
        entry.id = sample_id(static_cast<std::uint64_t>(id.bytes[0]) * 100'000U + 8'000'000U +
                             static_cast<std::uint64_t>(++seq_));
        entry.visit = id;
        entry.device = device;
        entry.seq = seq_;
        entry.at = clock_;
        clock_.utc_ms += 20'000;
        entry.by = who;
        entry.body = body;
        entry.prev = head_;
        head_ = model::hash_of(model::to_canonical(entry));
        entries.push_back(entry);
    }

    void stage(const std::string& name, const Given& given) {
        for (const model::Checkpoint& c : uprating_protocol().checkpoints) {
            if (c.stage != name || !visit::is_asked(c, reg.structures.front(), state())) {
                continue;
            }
            const auto own = given.find(c.id);
            const std::string refused =
                mean(visit::Record{{c.part, c.id, own != given.end() ? own->second : usual(c), "", ""}});
            INFO(c.id << ": " << refused);
            REQUIRE(refused.empty());
            if (c.id == uprating_protocol().keys.crew) {
                REQUIRE(mean(visit::ActOnPermit{acts::Briefed{"doer"}}, "doer").empty());
                REQUIRE(mean(visit::ActOnPermit{acts::Briefed{"mate"}}, "mate").empty());
            }
        }
        const std::string refused = mean(visit::FinishStage{name});
        INFO(name << ": " << refused);
        REQUIRE(refused.empty());
    }

    [[nodiscard]] static model::Value usual(const model::Checkpoint& c) {
        const auto middle = [](const auto& input) {
            return model::Quantity{(input.usual.low + input.usual.high) / 2.0, input.unit};
        };
        if (const auto* choice = std::get_if<model::ChoiceInput>(&c.input)) {
            return model::Choice{{choice->options.front().id}};
        }
        if (const auto* number = std::get_if<model::NumberInput>(&c.input)) {
            return middle(*number);
        }
        if (const auto* numbers = std::get_if<model::NumbersInput>(&c.input)) {
            return model::Readings{{numbers->names.size(), middle(*numbers)}};
        }
        if (std::holds_alternative<model::PeopleInput>(c.input)) {
            return model::Choice{{"doer", "mate"}};
        }
        if (std::holds_alternative<model::TextInput>(c.input)) {
            return model::Remark{"as ordered"};
        }
        return model::Grade::Sound;
    }

    PermitPeople people_;
    model::Timestamp clock_{1'790'000'000'000, 60};
    std::string head_;
    std::int64_t seq_ = 0;
};

} // namespace crossarm::tests
