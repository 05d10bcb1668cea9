// RFC 8785 canonical JSON text, and reading JSON from outside with limits.
#pragma once

#include "checklist/model/result.hpp"

#include <nlohmann/json_fwd.hpp>

#include <cstddef>
#include <string>
#include <string_view>

namespace crossarm::model {

/// The RFC 8785 text of `value`: names sorted by UTF-16 code units, ES6 numbers, shortest escapes.
/// Numbers must be finite, integers within ±(2^53 - 1), text valid UTF-8: anything else is our bug and stops.
/// `expected_bytes` saves a large text from being moved as it grows.
[[nodiscard]] std::string canonical(const nlohmann::json& value, std::size_t expected_bytes = 0);
/// The same of a text alone: in quotes, with the shortest escapes.
[[nodiscard]] std::string canonical_text(std::string_view text);
/// ES6 text of a finite number: 1e+21, 0.000001, -0 as 0.
[[nodiscard]] std::string canonical_number(double value);

/// What a text from outside may hold at most.
struct JsonBounds {
    std::size_t depth = 32;
    std::size_t nodes = 200'000;
    std::size_t name_bytes = 128;
    std::size_t text_bytes = 12U * 1024U * 1024U;
};

/// Parses JSON from outside. Problem (with line and column, or the JSON pointer) for: broken syntax, a byte
/// order mark, bad UTF-8, a duplicate name, an integer beyond ±(2^53 - 1), more than `bounds` allow.
/// Nothing is built beyond the bounds.
[[nodiscard]] Result<nlohmann::json> parse_json(std::string_view text, std::string_view file,
                                                const JsonBounds& bounds = {});

} // namespace crossarm::model
