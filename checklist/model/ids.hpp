// Names of things: UUIDv7 (RFC 9562), made from a time and random bytes that the caller supplies.
#pragma once

#include "checklist/model/result.hpp"

#include <array>
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

namespace crossarm::model {

/// A UUID, 16 bytes. Sorted by bytes, which for version 7 means by time of making.
struct Id {
    std::array<std::uint8_t, 16> bytes{};
    auto operator<=>(const Id&) const = default;
};

/// Lower case, 8-4-4-4-12.
[[nodiscard]] std::string to_text(const Id& id);
/// Reads 8-4-4-4-12 hexadecimal digits, either case; any version. Problem otherwise.
[[nodiscard]] Result<Id> parse_id(std::string_view text, std::string_view where);

/// Makes UUIDv7. Values of one maker never go back: when the clock does, the last time is kept and the
/// 12-bit counter after it counts up (RFC 9562 6.2). Not a secret.
class IdMaker {
public:
    /// `random` is 10 fresh random bytes for each call; `unix_ms` is the present time, 0 to 2^48-1.
    [[nodiscard]] Id make(std::uint64_t unix_ms, const std::array<std::uint8_t, 10>& random);

private:
    std::uint64_t last_ms_ = 0;
    std::uint16_t counter_ = 0;
};

} // namespace crossarm::model
