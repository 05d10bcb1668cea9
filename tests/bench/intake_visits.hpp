// Bundles as large as those of a whole upkeep visit, for the benches; ids in order of time, as tablets make
// them.
#pragma once

#include "sync/bundle/bundle.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/test_keys.hpp"

#include <cstdint>
#include <string>

namespace crossarm::bench {

constexpr model::Timestamp kNow{1'773'500'000'000, 60};

inline model::Id id_at(std::int64_t ms, std::uint64_t number) {
    model::Id id = tests::sample_id(number);
    for (std::size_t i = 0; i < 6; ++i) {
        id.bytes[i] = static_cast<std::uint8_t>(ms >> (40 - 8 * static_cast<int>(i)));
    }
    return id;
}

/// Visit `number` of one tablet: opened, found, signed; `entries` in all (at least 4), each with a note of
/// `note_bytes`.
inline bundle::Bundle visit_bundle(unsigned number, const std::string& device, const std::string& prev,
                                   unsigned entries, std::size_t note_bytes = 0) {
    const std::int64_t begin = kNow.utc_ms - 400'000'000 + std::int64_t{number} * 30'000;
    bundle::Bundle bundle = tests::sample_bundle(number, device, number, prev);
    bundle.visit = id_at(begin, 7'000'000'000ULL + number);
    bundle.entries.clear();
    std::string head;
    const auto add = [&](const model::Body& body, const std::string& by) {
        model::Entry entry;
        const auto seq = static_cast<std::int64_t>(bundle.entries.size()) + 1;
        entry.at = {begin + seq * 40, 330};
        entry.id = id_at(entry.at.utc_ms, std::uint64_t{number} * 10'000U + static_cast<std::uint64_t>(seq));
        entry.visit = bundle.visit;
        entry.device = device;
        entry.seq = seq;
        entry.by = by;
        entry.body = body;
        entry.prev = head;
        bundle.entries.push_back(model::to_canonical(entry));
        head = model::hash_of(bundle.entries.back());
    };
    const std::string note(note_bytes, 'n');
    add(model::Opened{bundle.structure.id, bundle.protocol, bundle.protocol_digest, 12}, "P-014");
    for (unsigned i = 0; i + 3 < entries; ++i) {
        model::Finding finding{"tank", "tank.point_" + std::to_string(i), model::Grade::Sound, "", note};
        if (i % 4 == 1) {
            finding.value = model::Quantity{10.0 + 0.7 * i, model::Unit::Kilovolt};
        } else if (i % 4 == 2) {
            finding.value = model::Choice{{"blue"}};
        } else if (i % 12 == 3) {
            finding.value = model::Readings{{{28.5, model::Unit::Kilovolt},
                                             {31.0, model::Unit::Kilovolt},
                                             {29.5, model::Unit::Kilovolt},
                                             {30.5, model::Unit::Kilovolt},
                                             {33.0, model::Unit::Kilovolt},
                                             {30.0, model::Unit::Kilovolt}}};
        } else if (i % 12 == 7) {
            finding.value = model::Remark{"Lug “tight”, 2 Ω"};
        }
        add(model::Found{finding, {}}, "P-014");
    }
    add(model::StageFinished{"work"}, "P-014");
    add(model::Signed{head, "Seen"}, "P-003");
    for (int i = 0; i < 8; ++i) {
        bundle.verdicts.push_back(bundle.verdicts.front());
    }
    return bundle;
}

} // namespace crossarm::bench
