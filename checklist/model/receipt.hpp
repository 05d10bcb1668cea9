// The office's word about one tablet's bundles: what it holds, what it holds back, what it misses.
#pragma once

#include "checklist/model/timestamp.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace crossarm::model {

/// One bundle of the tablet, by its number, the life that wrote it, and the digest that it is known by.
struct NumberedDigest {
    std::int64_t seq = 0;
    std::int64_t life = 1;
    std::string digest;
    bool operator==(const NumberedDigest&) const = default;
};

/// A file that names this tablet as its maker and was refused.
struct HeldBackFile {
    std::string digest; ///< as its seal says, or the SHA-256 of the whole file when its seal is not whole
    std::string reason; ///< a sentence
    bool operator==(const HeldBackFile&) const = default;
};

/// Receipts are cumulative: each says all that the earlier ones said, or a later head that vouches for it. So
/// they can be lost, repeated and come in any order.
struct Receipt {
    std::string office;
    std::string epoch; ///< names the office's store
    std::int64_t count =
        0; ///< of receipts of this store; goes down when the office was put back from a backup
    std::string device;
    Timestamp at;
    std::vector<NumberedDigest> have; ///< by number and digest
    /// The office holds this bundle and, following the digests that each bundle names, every one before it.
    std::optional<NumberedDigest> complete_up_to = std::nullopt;
    std::vector<HeldBackFile> held_back;
    std::vector<NumberedDigest> gaps; ///< named by another bundle as the one before it, and not here
    std::vector<std::int64_t> forks;  ///< numbers under which there is more than one bundle
    bool operator==(const Receipt&) const = default;
};

} // namespace crossarm::model
