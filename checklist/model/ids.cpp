#include "checklist/model/ids.hpp"

namespace crossarm::model {

namespace {

int hex_value(char c) {
    if (c >= '0' && c <= '9') {
        return c - '0';
    }
    if (c >= 'a' && c <= 'f') {
        return c - 'a' + 10;
    }
    if (c >= 'A' && c <= 'F') {
        return c - 'A' + 10;
    }
    return -1;
}

constexpr bool dash_before(std::size_t byte) {
    return byte == 4 || byte == 6 || byte == 8 || byte == 10;
}

} // namespace

std::string to_text(const Id& id) {
    static constexpr char kDigits[] = "0123456789abcdef";
    std::string out;
    out.reserve(36);
    for (std::size_t i = 0; i < id.bytes.size(); ++i) {
        if (dash_before(i)) {
            out += '-';
        }
        out += kDigits[id.bytes[i] >> 4U];
        out += kDigits[id.bytes[i] & 0x0FU];
    }
    return out;
}

Result<Id> parse_id(std::string_view text, std::string_view where) {
    const auto wrong = [&] {
        return Problem{std::string(where), "\"" + std::string(text.substr(0, 60)) + "\" is not a UUID",
                       "write 36 characters, hexadecimal digits in groups of 8-4-4-4-12"};
    };
    if (text.size() != 36) {
        return wrong();
    }
    Id id;
    std::size_t pos = 0;
    for (std::size_t i = 0; i < id.bytes.size(); ++i) {
        if (dash_before(i) && text[pos++] != '-') {
            return wrong();
        }
        const int high = hex_value(text[pos]);
        const int low = hex_value(text[pos + 1]);
        if (high < 0 || low < 0) {
            return wrong();
        }
        id.bytes[i] = static_cast<std::uint8_t>(high * 16 + low);
        pos += 2;
    }
    return id;
}

Id IdMaker::make(std::uint64_t unix_ms, const std::array<std::uint8_t, 10>& random) {
    if (unix_ms > last_ms_) {
        last_ms_ = unix_ms;
        // Start low so that there is room to count up within the same millisecond.
        counter_ = static_cast<std::uint16_t>((random[0] << 2U) & 0x3FFU);
    } else if (++counter_ > 0x0FFFU) {
        ++last_ms_;
        counter_ = 0;
    }
    Id id;
    for (std::size_t i = 0; i < 6; ++i) {
        id.bytes[i] = static_cast<std::uint8_t>(last_ms_ >> (8U * (5U - i)));
    }
    id.bytes[6] = static_cast<std::uint8_t>(0x70U | (counter_ >> 8U));
    id.bytes[7] = static_cast<std::uint8_t>(counter_);
    id.bytes[8] = static_cast<std::uint8_t>(0x80U | (random[2] & 0x3FU));
    for (std::size_t i = 9; i < 16; ++i) {
        id.bytes[i] = random[i - 6];
    }
    return id;
}

} // namespace crossarm::model
