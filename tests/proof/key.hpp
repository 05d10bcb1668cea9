// A state in 128 bits: everything that a guard or a property reads, and nothing else.
#pragma once

#include "tests/proof/world.hpp"

#include <cstdint>

namespace crossarm::proof {

struct Key {
    std::uint64_t low = 0, high = 0;
    bool operator==(const Key&) const = default;
};
struct KeyHash {
    std::size_t operator()(const Key& key) const {
        return static_cast<std::size_t>((key.low * 0x9E3779B97F4A7C15ULL) ^
                                        ((key.high + 0x7F4A7C15ULL) * 0xC2B2AE3D27D4EB4FULL) ^
                                        (key.low >> 29U));
    }
};

/// Left out, because no guard reads it or because the worlds hold it constant: texts, signatures, places and
/// sizes, the order of lists, the second person, the reason of a suspension, who took a proof, tools that are
/// back, an earth that is off again against one that never was on. Kept of times: which of the moments.
/// A value that does not fit its bits stops.
[[nodiscard]] Key key_of(const State& state, std::size_t now);

} // namespace crossarm::proof
