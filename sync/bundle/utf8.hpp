// Texts from outside, made fit to be shown.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace crossarm::bundle {

/// Byte at which `text` stops being UTF-8 (RFC 3629: no surrogates, nothing overlong); npos when it never
/// does.
[[nodiscard]] std::size_t first_bad_utf8(std::string_view text);

/// The text with '?' for every byte that is not UTF-8 and for every control character.
[[nodiscard]] std::string printable(std::string_view text);

/// The printable text in quotes, at most about 40 bytes of it.
[[nodiscard]] std::string in_quotes(std::string_view text);

} // namespace crossarm::bundle
