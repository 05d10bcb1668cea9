#include "sync/seal/keys.hpp"

#include "checklist/model/digest.hpp"
#include "sync/seal/base64url.hpp"

#include <sodium.h>

#include <algorithm>
#include <utility>

namespace crossarm::seal {

namespace {

constexpr std::size_t kGroups = 5;
constexpr std::size_t kDigits = 5;
constexpr std::size_t kHashBytes = 11;

std::string_view view_of(const PublicKey& key) {
    return {reinterpret_cast<const char*>(key.data()), key.size()};
}

const unsigned char* bytes_of(std::string_view text) {
    return reinterpret_cast<const unsigned char*>(text.data());
}

std::string digits_of(const PublicKey& key) {
    const model::Digest hash = model::sha256(view_of(key));
    // Long division of an 88-bit number by ten, digit for digit from the right.
    std::array<unsigned, kHashBytes> number{};
    std::copy_n(hash.begin(), kHashBytes, number.begin());
    std::string digits(kGroups * kDigits, '0');
    for (auto digit = digits.rbegin(); digit != digits.rend(); ++digit) {
        unsigned rest = 0;
        for (unsigned& byte : number) {
            const unsigned value = rest * 256U + byte;
            byte = value / 10U;
            rest = value % 10U;
        }
        *digit = static_cast<char>('0' + rest);
    }
    return digits;
}

} // namespace

std::string key_id(const PublicKey& key) {
    return model::sha256_hex(view_of(key)).substr(0, 32);
}

std::string fingerprint(const PublicKey& key) {
    std::string digits = digits_of(key);
    for (std::size_t group = kGroups - 1; group > 0; --group) {
        digits.insert(group * kDigits, 1, ' ');
    }
    return digits;
}

bool is_fingerprint(std::string_view typed, const PublicKey& key) {
    std::string digits;
    for (const char c : typed) {
        if (c != ' ' && c != '-' && c != '.') {
            digits += c;
        }
    }
    return digits == digits_of(key);
}

std::string to_text(const PublicKey& key) {
    return to_base64url(view_of(key));
}

std::optional<PublicKey> read_public_key(std::string_view text) {
    const auto bytes = from_base64url(text);
    PublicKey key{};
    if (!bytes || bytes->size() != key.size()) {
        return std::nullopt;
    }
    std::ranges::transform(*bytes, key.begin(), [](char c) { return static_cast<std::uint8_t>(c); });
    return key;
}

bool verify(const PublicKey& key, std::string_view message, const Signature& signature) {
    return crypto_sign_verify_detached(signature.data(), bytes_of(message), message.size(), key.data()) == 0;
}

KeyPair KeyPair::from_seed(const Seed& seed) {
    model::require(sodium_init() >= 0, "the cryptographic library starts");
    KeyPair pair;
    crypto_sign_seed_keypair(pair.public_.data(), pair.secret_.data(), seed.data());
    pair.id_ = key_id(pair.public_);
    return pair;
}

KeyPair KeyPair::make() {
    model::require(sodium_init() >= 0, "the cryptographic library starts");
    Seed seed{};
    randombytes_buf(seed.data(), seed.size());
    KeyPair pair = from_seed(seed);
    sodium_memzero(seed.data(), seed.size());
    return pair;
}

KeyPair::KeyPair(KeyPair&& other) noexcept
    : secret_(other.secret_), public_(other.public_), id_(std::move(other.id_)) {
    sodium_memzero(other.secret_.data(), other.secret_.size());
}

KeyPair& KeyPair::operator=(KeyPair&& other) noexcept {
    if (this != &other) {
        secret_ = other.secret_;
        public_ = other.public_;
        id_ = std::move(other.id_);
        sodium_memzero(other.secret_.data(), other.secret_.size());
    }
    return *this;
}

KeyPair::~KeyPair() {
    sodium_memzero(secret_.data(), secret_.size());
}

Signature KeyPair::sign(std::string_view message) const {
    Signature signature{};
    crypto_sign_detached(signature.data(), nullptr, bytes_of(message), message.size(), secret_.data());
    return signature;
}

Seed KeyPair::seed() const {
    Seed seed{};
    crypto_sign_ed25519_sk_to_seed(seed.data(), secret_.data());
    return seed;
}

} // namespace crossarm::seal
