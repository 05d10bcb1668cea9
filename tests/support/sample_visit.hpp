// Plausible closed visits for tests, made by hand from a seed: same seed, same bytes.
#pragma once

#include "checklist/model/digest.hpp"
#include "checklist/model/entry.hpp"
#include "sync/bundle/bundle.hpp"

#include <cstdint>
#include <random>
#include <string>
#include <vector>

namespace crossarm::tests {

/// An id whose bytes follow from `number` alone.
inline model::Id sample_id(std::uint64_t number) {
    const model::Digest bytes = model::sha256("id " + std::to_string(number));
    model::Id id;
    for (std::size_t i = 0; i < id.bytes.size(); ++i) {
        id.bytes[i] = bytes[i];
    }
    id.bytes[6] = static_cast<std::uint8_t>(0x70U | (id.bytes[6] & 0x0FU));
    id.bytes[8] = static_cast<std::uint8_t>(0x80U | (id.bytes[8] & 0x3FU));
    return id;
}

inline std::string sample_device(unsigned number) {
    return model::to_text(sample_id(1'000'000U + number));
}

inline model::Structure sample_structure(unsigned number = 7) {
    model::Structure structure;
    structure.id = "QM-0" + std::to_string(100 + number % 100);
    structure.name = "Weir Cottages";
    structure.feeder = "Osier Lane";
    structure.latitude = -47.11228;
    structure.longitude = -121.40400;
    structure.support = "two-pole";
    structure.pole = "wood";
    structure.customers = 42;
    structure.critical_customers = 1;
    structure.note = "Slope is slippery after rain";
    structure.plate.rating_kVA = 100.0;
    structure.plate.make = "Harrow & Dene";
    structure.plate.serial = "HD-40713";
    structure.plate.made_year = 2004;
    structure.plate.impedance_percent = 4.5;
    structure.plate.oil_litres = 135.0;
    structure.plate.vector_group = "Dyn11";
    structure.plate.breather = "blue";
    structure.plate.gel_kg = 0.5;
    structure.plate.hv_fuse = "16 K";
    return structure;
}

/// Builds the entries of one device in one visit, each with the hash of the one before.
class SampleJournal {
public:
    SampleJournal(model::Id visit, std::string device, std::uint64_t seed)
        : visit_(visit), device_(std::move(device)), seed_(seed) {}

    /// Returns the new entry's id.
    model::Id add(model::Body body, const std::string& by) {
        model::Entry entry;
        entry.id = sample_id(seed_ * 10'000U + static_cast<std::uint64_t>(++seq_));
        entry.visit = visit_;
        entry.device = device_;
        entry.seq = seq_;
        entry.at = {1'773'481'327'250 + seq_ * 45'000, 330};
        entry.by = by;
        entry.body = std::move(body);
        entry.prev = head_;
        texts_.push_back(model::to_canonical(entry));
        head_ = model::hash_of(texts_.back());
        return entry.id;
    }
    model::Id found(const std::string& part, const std::string& checkpoint, model::Value value) {
        return add(model::Found{{part, checkpoint, std::move(value), "", ""}, {}}, "P-014");
    }
    void sign(const std::string& by = "P-003") { add(model::Signed{head_, "Seen"}, by); }

    [[nodiscard]] const std::vector<std::string>& texts() const { return texts_; }
    [[nodiscard]] const std::string& head() const { return head_; }

private:
    model::Id visit_;
    std::string device_;
    std::uint64_t seed_;
    std::int64_t seq_ = 0;
    std::string head_;
    std::vector<std::string> texts_;
};

inline std::string sample_protocol_digest() {
    return model::sha256_hex("sample protocol");
}

inline visit::Assessed sample_verdict() {
    model::Verdict verdict;
    verdict.subject = "oil.breakdown";
    verdict.grade = model::Grade::Repair;
    verdict.when = model::When::Within30Days;
    verdict.action = {"oil.dry_by_filtering", {}};
    verdict.because = {"oil.breakdown_low", {{"mean", model::Quantity{28.5, model::Unit::Kilovolt}}}};
    verdict.workings = {{"work.mean", {28.5, model::Unit::Kilovolt}, "(28 + 29) / 2"}};
    verdict.source = {"sample-set", "A sample set", "Table 1", "common practice"};
    verdict.cautions = {{"caution.hot_oil", {{"part", std::string("tank")}}}};
    return {"oil.breakdown", verdict};
}

/// A signed visit of 10 entries and a few more by the seed, as bundle `seq` of `device`.
inline bundle::Bundle sample_bundle(unsigned seed, const std::string& device = sample_device(1),
                                    std::int64_t seq = 1, const std::string& prev = "") {
    std::mt19937 random(seed);
    bundle::Bundle bundle;
    bundle.device = device;
    bundle.seq = seq;
    bundle.prev = prev;
    bundle.visit = sample_id(2'000'000U + seed);
    bundle.protocol = "upkeep";
    bundle.protocol_digest = sample_protocol_digest();
    bundle.engine = "0.1.0";
    bundle.day_pack = 12;
    bundle.structure = sample_structure(seed);
    SampleJournal journal(bundle.visit, device, seed);
    journal.add(model::Opened{bundle.structure.id, bundle.protocol, bundle.protocol_digest, 12}, "P-014");
    journal.found("trees", "trees.clearance",
                  model::Quantity{static_cast<double>(random() % 60U) / 10.0, model::Unit::Metre});
    journal.found("tank", "tank.leaks", static_cast<model::Grade>(random() % 3U));
    const model::Id danger = journal.found("hv_bushings", "hv_bushings.damage", model::Grade::Danger);
    model::Readings shots;
    for (int i = 0; i < 6; ++i) {
        shots.values.push_back({static_cast<double>(200U + random() % 400U) / 10.0, model::Unit::Kilovolt});
    }
    journal.found("oil", "oil.breakdown", shots);
    journal.found("breather", "breather.colour", model::Choice{{"blue"}});
    for (unsigned i = 0; i < random() % 5U; ++i) {
        journal.found("earth", "earth.note." + std::to_string(i), model::Remark{"Lug “tight”, 2 Ω"});
    }
    journal.found("lv_cable", "lv_cable.sheath", model::OutOfReach{"wasps' nest"});
    journal.found("arresters", "arresters.fitted", model::NotFitted{});
    journal.add(model::StageFinished{"work"}, "P-014");
    journal.add(model::DangerDecided{"hv_bushings.damage", danger, "supply_stays_off", "Shed broken off"},
                "P-003");
    journal.sign();
    bundle.entries = journal.texts();
    bundle.verdicts = {
        sample_verdict(),
        {"breather.colour",
         model::NoVerdict{"breather", {"breather.no_share", {{"checkpoint", std::string("x")}}}}}};
    return bundle;
}

} // namespace crossarm::tests
