// One visit as the office holds it: all its bundles and the fold of all their entries.
#pragma once

#include "checklist/model/protocol.hpp"
#include "checklist/model/result.hpp"
#include "checklist/visit/assess.hpp"
#include "checklist/visit/state.hpp"
#include "sync/office/office_store.hpp"

#include <string>
#include <vector>

namespace crossarm::office {

struct VisitRecord {
    model::Id visit;
    std::vector<BundleRow> bundles; ///< by device, life, sequence
    model::Structure structure;     ///< as the last of those bundles has it
    std::string protocol;
    std::string protocol_digest;
    std::vector<visit::Assessed> verdicts; ///< as worked out on the tablets, each once
    std::vector<model::Entry> entries;     ///< of every tablet
};

/// Reads the visit's bundles and entries. Problem when the store has none of that visit, or is damaged.
[[nodiscard]] model::Result<VisitRecord> read_visit(const OfficeStore& store, const model::Id& visit);

} // namespace crossarm::office
