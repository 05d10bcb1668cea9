// The frame around everything that travels: {"body":...,"seal":...} as RFC 8785 text.
#pragma once

#include "checklist/model/result.hpp"

#include <string>
#include <string_view>

namespace crossarm::seal {

/// What stands beside a body. `by` and `sig` are empty until identities exist.
struct Seal {
    std::string by;
    std::string digest; ///< SHA-256 of the body's text
    std::string sig;
};

/// Wraps a body (canonical text of an object) with its seal.
[[nodiscard]] std::string wrap(std::string_view body);

struct Opened {
    std::string_view body; ///< a slice of the file's own bytes
    Seal seal;
};
/// Finds body and seal without trusting a parser, and checks the digest. `kind` ("bundle", "day pack") is
/// used in the Problem: too short, no frame, seal of the wrong shape, digest that does not match.
[[nodiscard]] model::Result<Opened> open(std::string_view bytes, std::string_view file,
                                         std::string_view kind);

} // namespace crossarm::seal
