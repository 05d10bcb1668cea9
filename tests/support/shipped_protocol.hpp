// The protocols as they are shipped, for tests of their content.
#pragma once

#include "checklist/model/protocol.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <string>

namespace crossarm::tests {

/// A file below assets, as it is.
inline std::string asset_text(const std::string& path) {
    std::ifstream in(std::string(CROSSARM_SOURCE_DIR) + "/assets/" + path, std::ios::binary);
    REQUIRE(in);
    return {std::istreambuf_iterator<char>(in), {}};
}

inline model::Protocol shipped_protocol(const std::string& id) {
    auto read = model::read_protocol(asset_text("protocols/" + id + ".json"), id + ".json");
    INFO((read ? std::string() : model::to_text(read.problem())));
    REQUIRE(read.ok());
    return *read;
}

/// Characters, not bytes, of UTF-8.
inline std::size_t characters(const std::string& utf8) {
    return static_cast<std::size_t>(std::ranges::count_if(utf8, [](char c) { return (c & 0xC0) != 0x80; }));
}

inline std::string lower(std::string text) {
    std::ranges::transform(text, text.begin(), [](char c) {
        return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    });
    return text;
}

} // namespace crossarm::tests
