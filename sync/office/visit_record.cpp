#include "sync/office/visit_record.hpp"

#include "sync/office/office_keys.hpp"

#include <algorithm>

namespace crossarm::office {

namespace {

using model::Problem;
using model::Result;

model::Done add_bundle(const OfficeStore& store, const seal::KeyRing& ring, const BundleRow& row,
                       VisitRecord& record) {
    const auto raw = store.raw(row.digest);
    if (!raw) {
        return raw.problem();
    }
    auto read = bundle::read_bundle(*raw, store.path() + " bundle " + row.digest.substr(0, 8), ring);
    if (!read) {
        return read.problem();
    }
    record.structure = read->bundle.structure;
    record.protocol = read->bundle.protocol;
    record.protocol_digest = read->bundle.protocol_digest;
    for (visit::Assessed& assessed : read->bundle.verdicts) {
        if (std::ranges::find(record.verdicts, assessed) == record.verdicts.end()) {
            record.verdicts.push_back(std::move(assessed));
        }
    }
    record.bundles.push_back(row);
    return {};
}

} // namespace

Result<VisitRecord> read_visit(const OfficeStore& store, const model::Id& visit) {
    VisitRecord record;
    record.visit = visit;
    const auto bundles = store.bundles_of(visit);
    if (!bundles) {
        return bundles.problem();
    }
    const auto ring = keys_for_stored(store);
    if (!ring) {
        return ring.problem();
    }
    for (const BundleRow& row : *bundles) {
        if (auto added = add_bundle(store, *ring, row, record); !added) {
            return added.problem();
        }
    }
    if (record.bundles.empty()) {
        return Problem{store.path(), "no bundle of visit " + model::to_text(visit) + " is here",
                       "take its bundle in first, or list the visits with --all"};
    }
    const auto texts = store.texts(visit);
    if (!texts) {
        return texts.problem();
    }
    for (const std::string& text : *texts) {
        auto entry = model::read_entry(text, store.path());
        if (!entry) {
            return entry.problem();
        }
        record.entries.push_back(std::move(entry).value());
    }
    return record;
}

} // namespace crossarm::office
