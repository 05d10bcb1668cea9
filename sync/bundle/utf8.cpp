#include "sync/bundle/utf8.hpp"

namespace crossarm::bundle {

namespace {

/// Length of the character at the beginning of `text`, 0 when it is none (RFC 3629 section 4).
std::size_t character(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(0);
    if (lead < 0x80) {
        return 1;
    }
    const std::size_t length = lead >= 0xC2 && lead < 0xE0   ? 2
                               : lead >= 0xE0 && lead < 0xF0 ? 3
                               : lead >= 0xF0 && lead < 0xF5 ? 4
                                                             : 0;
    if (length == 0 || text.size() < length) {
        return 0;
    }
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) {
            return 0;
        }
    }
    const bool overlong = (lead == 0xE0 && byte(1) < 0xA0) || (lead == 0xF0 && byte(1) < 0x90);
    const bool outside = (lead == 0xED && byte(1) >= 0xA0) || (lead == 0xF4 && byte(1) >= 0x90);
    return overlong || outside ? 0 : length;
}

} // namespace

std::size_t first_bad_utf8(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = character(text.substr(at));
        if (length == 0) {
            return at;
        }
        at += length;
    }
    return std::string_view::npos;
}

std::string printable(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = character(text.substr(at));
        const auto lead = static_cast<unsigned char>(text[at]);
        if (length == 0 || lead < 0x20 || lead == 0x7F) {
            out += '?';
            at += 1;
        } else {
            out += text.substr(at, length);
            at += length;
        }
    }
    return out;
}

std::string in_quotes(std::string_view text) {
    constexpr std::size_t kShown = 40;
    std::size_t end = 0;
    while (end < text.size()) {
        const std::size_t length = character(text.substr(end));
        const std::size_t next = end + (length == 0 ? 1 : length);
        if (next > kShown) {
            return '"' + printable(text.substr(0, end)) + "...\"";
        }
        end = next;
    }
    return '"' + printable(text) + '"';
}

} // namespace crossarm::bundle
