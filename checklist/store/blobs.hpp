// Ids as the 16 bytes that the tables hold.
#pragma once

#include "checklist/model/ids.hpp"

#include <algorithm>
#include <string>
#include <string_view>

namespace crossarm::store {

[[nodiscard]] inline std::string bytes_of(const model::Id& id) {
    return std::string(id.bytes.begin(), id.bytes.end());
}

/// All zero when there are not 16 bytes, which no id of ours is: the chain then finds the difference.
[[nodiscard]] inline model::Id id_of(std::string_view bytes) {
    model::Id id;
    if (bytes.size() == id.bytes.size()) {
        std::transform(bytes.begin(), bytes.end(), id.bytes.begin(),
                       [](char byte) { return static_cast<std::uint8_t>(byte); });
    }
    return id;
}

} // namespace crossarm::store
