// The bundle: one visit on its way to the office, sealed by the tablet.
//
// A closed bundle holds a signed visit. What is recorded after that travels as an amendment: another closed
// bundle of the same visit with the next revision, which holds the new entries (or all of them: entries are a
// set). An open bundle holds the entries so far of a visit that is not signed yet: a second copy that the
// office can use when the tablet never comes back. All of them are numbered in one row.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/result.hpp"
#include "checklist/visit/assess.hpp"
#include "sync/bundle/sealed_json.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::bundle {

/// What a bundle's body says.
struct Bundle {
    std::string device;
    std::int64_t life = 1;
    std::int64_t seq = 0;
    std::string prev; ///< digest of this device's bundle seq-1, "" for the first
    model::Id visit;
    std::int64_t revision = 1; ///< from 2 on an amendment
    bool is_open = false;      ///< a copy of an unfinished visit
    std::string protocol;
    std::string protocol_digest;
    std::string engine; ///< version of the program
    std::int64_t day_pack = 0;
    model::Structure structure;            ///< register snapshot used
    std::vector<std::string> entries;      ///< canonical texts, by device and sequence
    std::vector<visit::Assessed> verdicts; ///< as worked out on the tablet
};

[[nodiscard]] Sealed write_bundle(const Bundle& bundle, const seal::KeyPair& key);

struct ReadBundle {
    Bundle bundle;
    std::string digest;
    std::vector<model::Entry> entries; ///< parsed, in the bundle's order
    std::vector<std::string> hashes;   ///< of the entries' texts, in the same order
};
/// Reads and checks a bundle in this order: size, frame, digest, key, signature, bounds, canonical text,
/// shape (schema), the key is that of the device and life in the body, then meaning (bundle_entries.hpp). The
/// Problem names file, place and remedy.
[[nodiscard]] model::Result<ReadBundle> read_bundle(std::string_view bytes, std::string_view file,
                                                    const seal::KeyRing& ring);

} // namespace crossarm::bundle
