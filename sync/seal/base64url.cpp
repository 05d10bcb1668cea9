#include "sync/seal/base64url.hpp"

#include "checklist/model/result.hpp"

#include <sodium.h>

#include <algorithm>

namespace crossarm::seal {

namespace {

constexpr int kVariant = sodium_base64_VARIANT_URLSAFE_NO_PADDING;

bool is_letter(char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' || c == '_';
}

} // namespace

std::string to_base64url(std::string_view bytes) {
    std::string text(sodium_base64_encoded_len(bytes.size(), kVariant), '\0');
    sodium_bin2base64(text.data(), text.size(), reinterpret_cast<const unsigned char*>(bytes.data()),
                      bytes.size(), kVariant);
    text.pop_back(); // the library ends it with NUL
    return text;
}

std::optional<std::string> from_base64url(std::string_view text) {
    // libsodium 1.0.18 takes some bytes beyond ASCII for letters.
    if (!std::ranges::all_of(text, is_letter)) {
        return std::nullopt;
    }
    std::string bytes(text.size() * 3 / 4 + 1, '\0');
    std::size_t size = 0;
    // Without an end pointer the library refuses whatever follows the last letter.
    if (sodium_base642bin(reinterpret_cast<unsigned char*>(bytes.data()), bytes.size(), text.data(),
                          text.size(), nullptr, &size, nullptr, kVariant) != 0) {
        return std::nullopt;
    }
    bytes.resize(size);
    return bytes;
}

} // namespace crossarm::seal
