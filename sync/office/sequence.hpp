// Gaps and forks in the tablets' numbering of bundles. Reported, never guessed over and never refused.
#pragma once

#include "sync/office/office_store.hpp"

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace crossarm::office {

/// A bundle that another one names as the one before it, and that the office does not hold.
struct Gap {
    std::string device;
    std::int64_t life = 1;
    std::int64_t seq = 0;
    std::string digest; ///< of the bundle that is missing
    bool operator==(const Gap&) const = default;
};

/// Several bundles under one number of one tablet: it was put back from a backup, or copied.
struct Fork {
    std::string device;
    std::int64_t life = 1;
    std::int64_t seq = 0;
    std::vector<std::string> digests; ///< at least two, sorted
    bool operator==(const Fork&) const = default;
};

struct Sequence {
    std::vector<Gap> gaps;   ///< by device, life, seq, digest; each once
    std::vector<Fork> forks; ///< by device, life, seq
};
/// Of these bundles; `is_held` tells whether the office has a bundle.
[[nodiscard]] Sequence check_sequence(const std::vector<BundleRow>& bundles,
                                      const std::function<bool(const std::string& digest)>& is_held);
/// Of everything in the store, without reading all of it.
[[nodiscard]] model::Result<Sequence> check_sequence(const OfficeStore& store);

} // namespace crossarm::office
