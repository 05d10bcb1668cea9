// A PIN's hash: Argon2id (RFC 9106) by libsodium, as a PHC string that carries its own salt and cost.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace crossarm::store {

/// What one guess costs. Verifying takes the cost that stands in the hash.
struct PinCost {
    unsigned long long passes;
    std::size_t bytes;
};

/// 3 passes over 64 MiB, as the second recommended choice of RFC 9106 section 4 (which has four lanes;
/// libsodium has one). Measured on one core of a server: 0.14 s; a core of a tablet is two to four times as
/// slow, so that a person waits up to about half a second. More memory would not fit small tablets. A PIN of
/// six digits cannot withstand somebody who has the store's file and a few days, whatever a guess costs here
/// (a million guesses at 0.14 s are 39 hours on one core): the disk must be encrypted. Against tries on the
/// tablet itself the waiting protects.
constexpr PinCost kPinCost{3, 64U * 1024U * 1024U};

class PinHash {
public:
    explicit PinHash(PinCost cost = kPinCost) : cost_(cost) {}
    /// "$argon2id$v=19$m=65536,t=3,p=1$salt$hash" with a fresh salt. Empty when there is no memory for it.
    [[nodiscard]] std::string make(std::string_view digits) const;
    /// False also when `phc` is no such string, or there is no memory for it. The digits are compared in
    /// constant time and not kept.
    [[nodiscard]] static bool fits(std::string_view digits, const std::string& phc);

private:
    PinCost cost_;
};

} // namespace crossarm::store
