#include "sync/seal/frame.hpp"

#include "checklist/model/digest.hpp"

#include <algorithm>

namespace crossarm::seal {

namespace {

using model::Problem;
using model::Result;

constexpr std::string_view kHead = R"({"body":)";
constexpr std::string_view kJoint = R"(,"seal":)";
constexpr std::size_t kSealBytes = 400; ///< the seal stands within the last bytes of the file

bool is_hex(std::string_view text) {
    return std::ranges::all_of(text, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

bool is_base64url(std::string_view text) {
    return std::ranges::all_of(text, [](char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' ||
               c == '_';
    });
}

bool take(std::string_view& text, std::string_view expected) {
    if (!text.starts_with(expected)) {
        return false;
    }
    text.remove_prefix(expected.size());
    return true;
}

/// Takes up to the next quote.
std::string_view take_text(std::string_view& text) {
    const std::string_view taken = text.substr(0, text.find('"'));
    text.remove_prefix(taken.size());
    return taken;
}

bool read_seal(std::string_view text, Seal& seal) {
    if (!take(text, R"({"by":")")) {
        return false;
    }
    seal.by = take_text(text);
    if (!take(text, R"(","digest":")")) {
        return false;
    }
    seal.digest = take_text(text);
    if (!take(text, R"(","sig":")")) {
        return false;
    }
    seal.sig = take_text(text);
    // Lengths: a key id of 16 bytes, SHA-256, an Ed25519 signature; or nothing yet.
    return text == R"("}})" && seal.digest.size() == 64 && is_hex(seal.digest) &&
           (seal.by.empty() || seal.by.size() == 32) && is_hex(seal.by) &&
           (seal.sig.empty() || seal.sig.size() == 86) && is_base64url(seal.sig);
}

} // namespace

std::string wrap(std::string_view body) {
    model::require(body.size() >= 2 && body.front() == '{' && body.back() == '}', "a body is an object");
    std::string file;
    file.reserve(body.size() + kSealBytes);
    file += kHead;
    file += body;
    file += kJoint;
    file += R"({"by":"","digest":")";
    file += model::sha256_hex(body);
    file += R"(","sig":""}})";
    return file;
}

Result<Opened> open(std::string_view bytes, std::string_view file, std::string_view kind) {
    const std::string name(file);
    const std::string remedy = "bring the " + std::string(kind) + " again from where it was made";
    if (bytes.empty()) {
        return Problem{name + ": byte 0", "the file is empty", remedy};
    }
    if (!bytes.starts_with(kHead)) {
        return Problem{
            name + ": byte 0",
            "this is not a " + std::string(kind) + ": it does not begin with " + std::string(kHead), remedy};
    }
    const std::size_t joint = bytes.rfind(kJoint);
    if (joint == std::string_view::npos || joint + kSealBytes < bytes.size()) {
        return Problem{name + ": byte " + std::to_string(bytes.size()),
                       "the seal at the end of the file is missing: the file was cut or changed", remedy};
    }
    Opened opened;
    opened.body = bytes.substr(kHead.size(), joint - kHead.size());
    if (!read_seal(bytes.substr(joint + kJoint.size()), opened.seal)) {
        return Problem{name + ": /seal", "the seal is not whole: the file was cut or changed", remedy};
    }
    if (opened.body.empty() || opened.body.front() != '{' || opened.body.back() != '}') {
        return Problem{name + ": /body", "the body is not an object", remedy};
    }
    const std::string found = model::sha256_hex(opened.body);
    if (found != opened.seal.digest) {
        return Problem{name + ": /body",
                       "the content does not match its seal (sealed " + opened.seal.digest.substr(0, 8) +
                           ", found " + found.substr(0, 8) + "): the file was changed after it was made",
                       remedy};
    }
    return opened;
}

} // namespace crossarm::seal
