// Base64url without padding (RFC 4648 section 5), strict.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace crossarm::seal {

/// Bytes as letters of A-Z a-z 0-9 - _, without padding.
[[nodiscard]] std::string to_base64url(std::string_view bytes);
/// The bytes; nothing when there is any other sign (also = and white space), when the length cannot be, or
/// when the last letter carries bits that no byte has: one text for one value.
[[nodiscard]] std::optional<std::string> from_base64url(std::string_view text);

} // namespace crossarm::seal
