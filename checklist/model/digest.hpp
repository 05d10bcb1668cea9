// SHA-256.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace crossarm::model {

using Digest = std::array<std::uint8_t, 32>;

[[nodiscard]] Digest sha256(std::string_view bytes);
/// 64 lower-case hexadecimal digits.
[[nodiscard]] std::string to_hex(const Digest& digest);
/// Exactly `size` lower-case hexadecimal digits.
[[nodiscard]] bool is_hex(std::string_view text, std::size_t size);
/// to_hex(sha256(bytes))
[[nodiscard]] std::string sha256_hex(std::string_view bytes);

} // namespace crossarm::model
