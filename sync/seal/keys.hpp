// Ed25519 keys (RFC 8032), their names and their fingerprints.
#pragma once

#include "checklist/model/result.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace crossarm::seal {

using PublicKey = std::array<std::uint8_t, 32>;
using Seed = std::array<std::uint8_t, 32>;
using Signature = std::array<std::uint8_t, 64>;

/// What a seal names its key by: the first 16 bytes of the SHA-256 of the raw public key, as 32 lower-case
/// hexadecimal digits.
[[nodiscard]] std::string key_id(const PublicKey& key);

/// What two people compare by voice: five groups of five decimal digits, "04711 22053 ...", which are the
/// first 88 bits of the SHA-256 of the public key modulo 10^25. A stranger's key that shows the same digits
/// takes about 10^25 (2^83) tries to find; two keys of one's own that show the same take 2^42, which wins
/// nothing: either way only the one key is pinned whose digits were read out.
[[nodiscard]] std::string fingerprint(const PublicKey& key);
/// Whether `typed` are the digits of this key; spaces, hyphens and full stops between them do not count.
[[nodiscard]] bool is_fingerprint(std::string_view typed, const PublicKey& key);

[[nodiscard]] std::string to_text(const PublicKey& key); ///< base64url, 43 letters
[[nodiscard]] std::optional<PublicKey> read_public_key(std::string_view text);

/// True when `signature` is this key's over `message`. Checked by libsodium alone: libraries disagree about
/// malformed keys and signatures, so that one verifier decides everywhere.
[[nodiscard]] bool verify(const PublicKey& key, std::string_view message, const Signature& signature);

/// A key pair. The secret part is wiped when the object goes, and is never copied.
class KeyPair {
public:
    /// RFC 8032: the seed alone makes the pair.
    [[nodiscard]] static KeyPair from_seed(const Seed& seed);
    /// A new one from the system's random bytes.
    [[nodiscard]] static KeyPair make();
    KeyPair(KeyPair&& other) noexcept;
    KeyPair& operator=(KeyPair&& other) noexcept;
    KeyPair(const KeyPair&) = delete;
    KeyPair& operator=(const KeyPair&) = delete;
    ~KeyPair();

    [[nodiscard]] const PublicKey& public_key() const { return public_; }
    [[nodiscard]] const std::string& id() const { return id_; }
    [[nodiscard]] Signature sign(std::string_view message) const;
    /// The seed, for the one place that keeps it; the caller wipes it.
    [[nodiscard]] Seed seed() const;

private:
    KeyPair() = default;
    std::array<std::uint8_t, 64> secret_{};
    PublicKey public_{};
    std::string id_;
};

} // namespace crossarm::seal
