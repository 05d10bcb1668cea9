#include "checklist/model/digest.hpp"

#include <sodium.h>

#include <algorithm>

namespace crossarm::model {

Digest sha256(std::string_view bytes) {
    Digest out{};
    // The portable SHA-256 needs no sodium_init.
    crypto_hash_sha256(out.data(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
    return out;
}

std::string to_hex(const Digest& digest) {
    static constexpr char kDigits[] = "0123456789abcdef";
    std::string out;
    out.reserve(digest.size() * 2);
    for (const std::uint8_t byte : digest) {
        out += kDigits[byte >> 4U];
        out += kDigits[byte & 0x0FU];
    }
    return out;
}

bool is_hex(std::string_view text, std::size_t size) {
    return text.size() == size &&
           std::ranges::all_of(text, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

std::string sha256_hex(std::string_view bytes) {
    return to_hex(sha256(bytes));
}

} // namespace crossarm::model
