#include "checklist/store/pin_hash.hpp"

#include "checklist/model/result.hpp"

#include <sodium.h>

#include <array>

namespace crossarm::store {

std::string PinHash::make(std::string_view digits) const {
    model::require(sodium_init() >= 0, "libsodium is ready");
    std::array<char, crypto_pwhash_STRBYTES> phc{};
    const int failed = crypto_pwhash_str_alg(phc.data(), digits.data(), digits.size(), cost_.passes,
                                             cost_.bytes, crypto_pwhash_ALG_ARGON2ID13);
    return failed != 0 ? std::string() : std::string(phc.data());
}

bool PinHash::fits(std::string_view digits, const std::string& phc) {
    model::require(sodium_init() >= 0, "libsodium is ready");
    return phc.size() < crypto_pwhash_STRBYTES &&
           crypto_pwhash_str_verify(phc.c_str(), digits.data(), digits.size()) == 0;
}

} // namespace crossarm::store
