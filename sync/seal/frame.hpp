// The frame around everything that travels, {"body":...,"seal":...} as RFC 8785 text, and the seal on it.
//
// The seal is {"by":"<key id>","digest":"<SHA-256 of the body's text>","sig":"<Ed25519, base64url>"}. What is
// signed is the line "crossarm <kind> 1", a line end, and the digest's 64 digits; so nothing sealed as one
// kind passes for another, and no parser is trusted to find what was signed.
// A file that introduces its key to somebody who may not know it yet carries the public key as well ("key",
// base64url), and the word of the key before it ("vouch":{"by":...,"sig":...}, over "crossarm key 1", a line
// end and the SHA-256 of the new public key) when an office changes its key.
#pragma once

#include "checklist/model/result.hpp"
#include "sync/seal/key_ring.hpp"
#include "sync/seal/keys.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace crossarm::seal {

enum class Kind { Bundle, DayPack, Receipt, Enrolment };
/// "bundle", "day pack", "receipt", "enrolment".
[[nodiscard]] std::string_view name_of(Kind kind);

/// One key's word for the one that follows it.
struct Vouch {
    std::string by;
    Signature sig{};
};
[[nodiscard]] Vouch vouch_for(const PublicKey& next, const KeyPair& before);

/// What stands beside a body.
struct Seal {
    std::string by;
    std::string digest; ///< SHA-256 of the body's text
    Signature sig{};
    std::optional<PublicKey> key; ///< it is the key that `by` names
    std::optional<Vouch> vouch;
};

/// Wraps a body (canonical text of an object) with its seal.
[[nodiscard]] std::string wrap(std::string_view body, Kind kind, const KeyPair& key);
/// The same with the public key in the seal, and the word of the key before it.
[[nodiscard]] std::string wrap_introduced(std::string_view body, Kind kind, const KeyPair& key,
                                          const std::optional<Vouch>& vouch = std::nullopt);

struct Opened {
    std::string_view body; ///< a slice of the file's own bytes
    Seal seal;
    RingKey by; ///< the key that sealed it
};
/// Finds body and seal without parsing the body, and checks, in this order: frame, shape of the seal, digest,
/// key known, key not revoked, signature. Each has its own Problem; a signature that is right for another
/// kind is named. What comes back was sealed as `kind` by a key of the ring.
[[nodiscard]] model::Result<Opened> open(std::string_view bytes, std::string_view file, Kind kind,
                                         const KeyRing& ring);

/// The first two steps and the digest alone, whoever sealed it: to say of a file whether it is whole.
struct Found {
    std::string_view body;
    Seal seal;
};
[[nodiscard]] model::Result<Found> find_body(std::string_view bytes, std::string_view file, Kind kind);

/// For a file that introduces its key: checks everything but whether the key is known. Who holds this key
/// made the file; who that is, people have to say by comparing the fingerprint. Problem also when no key is
/// in the seal.
[[nodiscard]] model::Result<Found> open_introduced(std::string_view bytes, std::string_view file, Kind kind);
/// Whether a key of the ring that is not revoked vouches for the key that this seal introduces.
[[nodiscard]] bool is_vouched(const Seal& seal, const KeyRing& ring);

} // namespace crossarm::seal
