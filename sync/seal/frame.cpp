#include "sync/seal/frame.hpp"

#include "checklist/model/digest.hpp"
#include "sync/seal/base64url.hpp"

#include <algorithm>
#include <array>

namespace crossarm::seal {

namespace {

using model::Problem;
using model::Result;

constexpr std::string_view kHead = R"({"body":)";
constexpr std::string_view kJoint = R"(,"seal":)";
constexpr std::size_t kSealBytes = 600; ///< the seal stands within the last bytes of the file
constexpr std::array kKinds = {Kind::Bundle, Kind::DayPack, Kind::Receipt, Kind::Enrolment};

bool is_hex(std::string_view text, std::size_t size) {
    return text.size() == size &&
           std::ranges::all_of(text, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

std::string_view view_of(const PublicKey& key) {
    return {reinterpret_cast<const char*>(key.data()), key.size()};
}

std::string text_of(const Signature& signature) {
    return to_base64url({reinterpret_cast<const char*>(signature.data()), signature.size()});
}

std::string signed_text(std::string_view kind, std::string_view digest) {
    return "crossarm " + std::string(kind) + " 1\n" + std::string(digest);
}

std::string vouched_text(const PublicKey& key) {
    return signed_text("key", model::sha256_hex(view_of(key)));
}

/// Takes the seal's text apart, sign for sign; nothing in it may be another way.
class SealText {
public:
    explicit SealText(std::string_view text) : text_(text) {}

    bool read(Seal& seal) {
        const bool known =
            take(R"({"by":")") && hex(seal.by, 32) && take(R"(","digest":")") && hex(seal.digest, 64);
        if (!known) {
            return false;
        }
        if (take(R"(","key":")")) {
            seal.key = read_public_key(till_quote());
            if (!seal.key || key_id(*seal.key) != seal.by) {
                return false;
            }
        }
        if (!take(R"(","sig":")") || !signature(seal.sig)) {
            return false;
        }
        if (take(R"(","vouch":{"by":")")) {
            Vouch vouch;
            if (!seal.key || !hex(vouch.by, 32) || !take(R"(","sig":")") || !signature(vouch.sig)) {
                return false;
            }
            seal.vouch = std::move(vouch);
            return text_ == R"("}}})";
        }
        return text_ == R"("}})";
    }

private:
    bool take(std::string_view expected) {
        if (!text_.starts_with(expected)) {
            return false;
        }
        text_.remove_prefix(expected.size());
        return true;
    }
    std::string_view till_quote() {
        const std::string_view taken = text_.substr(0, text_.find('"'));
        text_.remove_prefix(taken.size());
        return taken;
    }
    bool hex(std::string& out, std::size_t size) {
        out = till_quote();
        return is_hex(out, size);
    }
    bool signature(Signature& out) {
        const auto bytes = from_base64url(till_quote());
        if (!bytes || bytes->size() != out.size()) {
            return false;
        }
        std::ranges::transform(*bytes, out.begin(), [](char c) { return static_cast<std::uint8_t>(c); });
        return true;
    }

    std::string_view text_;
};

std::string file_of(std::string_view body, const Seal& seal) {
    std::string file;
    file.reserve(body.size() + kSealBytes);
    file += kHead;
    file += body;
    file += kJoint;
    file += R"({"by":")" + seal.by + R"(","digest":")" + seal.digest;
    if (seal.key) {
        file += R"(","key":")" + to_text(*seal.key);
    }
    file += R"(","sig":")" + text_of(seal.sig);
    if (seal.vouch) {
        file +=
            R"(","vouch":{"by":")" + seal.vouch->by + R"(","sig":")" + text_of(seal.vouch->sig) + R"("}}})";
    } else {
        file += R"("}})";
    }
    return file;
}

Seal seal_of(std::string_view body, Kind kind, const KeyPair& key) {
    model::require(body.size() >= 2 && body.front() == '{' && body.back() == '}', "a body is an object");
    Seal seal;
    seal.by = key.id();
    seal.digest = model::sha256_hex(body);
    seal.sig = key.sign(signed_text(name_of(kind), seal.digest));
    return seal;
}

/// What a signature that does not hold turns out to be.
Problem bad_signature(const Seal& seal, const PublicKey& key, const std::string& name, Kind kind) {
    for (const Kind other : kKinds) {
        if (other != kind && verify(key, signed_text(name_of(other), seal.digest), seal.sig)) {
            return {name + ": /seal",
                    "it was sealed as a " + std::string(name_of(other)) + ", not as a " +
                        std::string(name_of(kind)),
                    "give it where a " + std::string(name_of(other)) + " is asked for"};
        }
    }
    return {name + ": /seal/sig",
            "the signature is not that of key " + seal.by.substr(0, 8) +
                ": whoever sealed this does not hold the key that it names",
            "keep the file and ask where it comes from; do not use what it says"};
}

} // namespace

std::string_view name_of(Kind kind) {
    switch (kind) {
    case Kind::Bundle:
        return "bundle";
    case Kind::DayPack:
        return "day pack";
    case Kind::Receipt:
        return "receipt";
    case Kind::Enrolment:
        return "enrolment";
    }
    return "";
}

Vouch vouch_for(const PublicKey& next, const KeyPair& before) {
    return {before.id(), before.sign(vouched_text(next))};
}

std::string wrap(std::string_view body, Kind kind, const KeyPair& key) {
    return file_of(body, seal_of(body, kind, key));
}

std::string wrap_introduced(std::string_view body, Kind kind, const KeyPair& key,
                            const std::optional<Vouch>& vouch) {
    Seal seal = seal_of(body, kind, key);
    seal.key = key.public_key();
    seal.vouch = vouch;
    return file_of(body, seal);
}

Result<Found> find_body(std::string_view bytes, std::string_view file, Kind kind) {
    const std::string name(file);
    const std::string remedy = "bring the " + std::string(name_of(kind)) + " again from where it was made";
    if (bytes.empty()) {
        return Problem{name + ": byte 0", "the file is empty", remedy};
    }
    if (!bytes.starts_with(kHead)) {
        return Problem{name + ": byte 0",
                       "this is not a " + std::string(name_of(kind)) + ": it does not begin with " +
                           std::string(kHead),
                       remedy};
    }
    const std::size_t joint = bytes.rfind(kJoint);
    if (joint == std::string_view::npos || joint + kSealBytes < bytes.size()) {
        return Problem{name + ": byte " + std::to_string(bytes.size()),
                       "the seal at the end of the file is missing: the file was cut or changed", remedy};
    }
    Found found;
    found.body = bytes.substr(kHead.size(), joint - kHead.size());
    if (!SealText(bytes.substr(joint + kJoint.size())).read(found.seal)) {
        return Problem{name + ": /seal", "the seal is not whole: the file was cut or changed", remedy};
    }
    if (found.body.empty() || found.body.front() != '{' || found.body.back() != '}') {
        return Problem{name + ": /body", "the body is not an object", remedy};
    }
    const std::string digest = model::sha256_hex(found.body);
    if (digest != found.seal.digest) {
        return Problem{name + ": /body",
                       "the content does not match its seal (sealed " + found.seal.digest.substr(0, 8) +
                           ", found " + digest.substr(0, 8) + "): the file was changed after it was made",
                       remedy};
    }
    return found;
}

Result<Opened> open(std::string_view bytes, std::string_view file, Kind kind, const KeyRing& ring) {
    auto found = find_body(bytes, file, kind);
    if (!found) {
        return found.problem();
    }
    const std::string name(file);
    const Seal& seal = found->seal;
    const RingKey* key = ring.find(seal.by);
    if (key == nullptr) {
        return Problem{name + ": /seal/by",
                       "the key " + seal.by.substr(0, 8) + " that sealed it is not known here",
                       kind == Kind::DayPack || kind == Kind::Receipt
                           ? "compare the fingerprint of the office's key and pin it, then load it again"
                           : "enrol the tablet that holds this key, then take it in again"};
    }
    if (key->revoked_from) {
        return Problem{
            name + ": /seal/by",
            "the key " + seal.by.substr(0, 8) + " that sealed it is revoked from " +
                model::to_text(*key->revoked_from) + " on",
            "find out who holds the key now; a tablet that is in good hands again begins a new life "
            "and is enrolled anew"};
    }
    if (!verify(key->key, signed_text(name_of(kind), seal.digest), seal.sig)) {
        return bad_signature(seal, key->key, name, kind);
    }
    return Opened{found->body, std::move(found->seal), *key};
}

Result<Found> open_introduced(std::string_view bytes, std::string_view file, Kind kind) {
    auto found = find_body(bytes, file, kind);
    if (!found) {
        return found;
    }
    const Seal& seal = found->seal;
    const std::string name(file);
    if (!seal.key) {
        return Problem{name + ": /seal", "it does not bring the key that sealed it",
                       "ask for a " + std::string(name_of(kind)) + " that introduces its key"};
    }
    if (!verify(*seal.key, signed_text(name_of(kind), seal.digest), seal.sig)) {
        return bad_signature(seal, *seal.key, name, kind);
    }
    return found;
}

bool is_vouched(const Seal& seal, const KeyRing& ring) {
    if (!seal.key || !seal.vouch) {
        return false;
    }
    const RingKey* before = ring.find(seal.vouch->by);
    return before != nullptr && !before->revoked_from && before->owner.kind == Owner::Kind::Office &&
           verify(before->key, vouched_text(*seal.key), seal.vouch->sig);
}

} // namespace crossarm::seal
