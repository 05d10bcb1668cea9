// The steps that every sealed file goes through before anyone looks at what it says.
#pragma once

#include "checklist/model/result.hpp"
#include "sync/seal/frame.hpp"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <string>
#include <string_view>

namespace crossarm::bundle {

/// No sealed file is larger.
constexpr std::size_t kMostFileBytes = 64U * 1024U * 1024U;

struct SealedJson {
    std::string_view text; ///< of the body: a slice of the bytes that were given, in canonical form
    nlohmann::json body;
    seal::Seal seal;
    seal::RingKey by; ///< the key that sealed it
};

/// Checks in this order: size, frame, digest, key, signature (seal::open), and only then what a parser sees:
/// bounds of the JSON, canonical text, `format`.
[[nodiscard]] model::Result<SealedJson> open_sealed(std::string_view bytes, std::string_view file,
                                                    seal::Kind kind, std::string_view format,
                                                    const seal::KeyRing& ring);
/// The same for a file that introduces its own key (seal::open_introduced); `by` then holds that key, and
/// nobody's name.
[[nodiscard]] model::Result<SealedJson> open_introduced_json(std::string_view bytes, std::string_view file,
                                                             seal::Kind kind, std::string_view format);

/// A Problem whose place reads "file: /outer: /inner", from a reader that was given the outer place as its
/// file, with the pointer in one piece.
[[nodiscard]] model::Problem joined(model::Problem problem, const std::string& outer);

/// Canonical text of `body` in its frame, and its digest.
struct Sealed {
    std::string digest; ///< SHA-256 of the body's text, hexadecimal: what the file is known by
    std::string bytes;
};
[[nodiscard]] Sealed seal_json(const nlohmann::json& body, seal::Kind kind, const seal::KeyPair& key);
/// The same with the public key in the seal, and the word of the key before it.
[[nodiscard]] Sealed seal_introduced_json(const nlohmann::json& body, seal::Kind kind,
                                          const seal::KeyPair& key,
                                          const std::optional<seal::Vouch>& vouch = std::nullopt);

} // namespace crossarm::bundle
