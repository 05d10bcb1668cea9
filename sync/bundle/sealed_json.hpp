// The steps that every sealed file goes through before anyone looks at what it says.
#pragma once

#include "checklist/model/result.hpp"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <string>
#include <string_view>

namespace crossarm::bundle {

/// No sealed file is larger.
constexpr std::size_t kMostFileBytes = 64U * 1024U * 1024U;

struct SealedJson {
    nlohmann::json body;
    std::string digest;
};

/// Checks in this order: size, frame, digest, bounds of the JSON, canonical text, `format`. `kind` is used in
/// the Problem ("bundle").
[[nodiscard]] model::Result<SealedJson> open_sealed(std::string_view bytes, std::string_view file,
                                                    std::string_view kind, std::string_view format);

/// A Problem whose place reads "file: /outer: /inner", from a reader that was given the outer place as its
/// file, with the pointer in one piece.
[[nodiscard]] model::Problem joined(model::Problem problem, const std::string& outer);

/// Canonical text of `body` in its frame, and its digest.
struct SealedText {
    std::string digest;
    std::string bytes;
};
[[nodiscard]] SealedText seal_json(const nlohmann::json& body);

} // namespace crossarm::bundle
