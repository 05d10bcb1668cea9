// The bundle: one closed visit on its way to the office.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/result.hpp"
#include "checklist/visit/assess.hpp"

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
    std::int64_t revision = 1;
    std::string protocol;
    std::string protocol_digest;
    std::string engine; ///< version of the program
    std::int64_t day_pack = 0;
    model::Structure structure;            ///< register snapshot used
    std::vector<std::string> entries;      ///< canonical texts, by device and sequence
    std::vector<visit::Assessed> verdicts; ///< as worked out on the tablet
};

struct Sealed {
    std::string digest; ///< SHA-256 of the body's text, hexadecimal: the bundle's identity
    std::string bytes;
};
[[nodiscard]] Sealed write_bundle(const Bundle& bundle);

struct ReadBundle {
    Bundle bundle;
    std::string digest;
    std::vector<model::Entry> entries; ///< parsed, in the bundle's order
};
/// Reads and checks a bundle in this order: size, frame, digest, bounds, canonical text, shape (schema), then
/// meaning: chain of entries whole, ids unique, one visit, signed by someone who is not a doer. The Problem
/// names file, place and remedy.
[[nodiscard]] model::Result<ReadBundle> read_bundle(std::string_view bytes, std::string_view file);

} // namespace crossarm::bundle
