#include "sync/bundle/sealed_json.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "sync/bundle/utf8.hpp"

#include <algorithm>

namespace crossarm::bundle {

namespace {

using model::Problem;
using model::Result;

// No text is longer until photos travel in the body.
constexpr model::JsonBounds kBounds{32, 200'000, 128, 64U * 1024U};

std::string again(seal::Kind kind) {
    return "bring the " + std::string(seal::name_of(kind)) + " again from where it was made";
}

model::Done check_size(std::string_view bytes, std::string_view file, seal::Kind kind) {
    if (bytes.size() > kMostFileBytes) {
        return Problem{std::string(file), "is larger than " + std::to_string(kMostFileBytes) + " bytes",
                       again(kind)};
    }
    return {};
}

/// Only for a body whose seal holds.
Result<nlohmann::json> read_body(std::string_view text, std::string_view file, seal::Kind kind,
                                 std::string_view format) {
    const std::string place = std::string(file) + ": /body";
    const std::string name(seal::name_of(kind));
    auto body = model::parse_json(text, place, kBounds);
    if (!body) {
        return Problem{body.problem().where, printable(body.problem().what), again(kind)};
    }
    const std::string canonical = model::canonical(*body, text.size());
    if (canonical != text) {
        const auto differs = std::ranges::mismatch(canonical, text).in1 - canonical.begin();
        return Problem{place,
                       "the text is not in the canonical form of RFC 8785 from byte " +
                           std::to_string(differs) + " of the body on",
                       "let the program write the " + name + ", and change nothing in it"};
    }
    const auto found = body->find("format");
    const bool is_text = found != body->end() && found->is_string();
    if (!is_text || found->get_ref<const std::string&>() != format) {
        return Problem{place + "/format",
                       is_text ? in_quotes(found->get<std::string>()) + " is not " + in_quotes(format)
                               : "the format is not named",
                       "give a " + name + " of this version, or install the version that reads it"};
    }
    return body;
}

} // namespace

Result<SealedJson> open_sealed(std::string_view bytes, std::string_view file, seal::Kind kind,
                               std::string_view format, const seal::KeyRing& ring) {
    if (auto small = check_size(bytes, file, kind); !small) {
        return small.problem();
    }
    auto opened = seal::open(bytes, file, kind, ring);
    if (!opened) {
        return opened.problem();
    }
    auto body = read_body(opened->body, file, kind, format);
    if (!body) {
        return body.problem();
    }
    return SealedJson{opened->body, std::move(body).value(), std::move(opened->seal), std::move(opened->by)};
}

Result<SealedJson> open_introduced_json(std::string_view bytes, std::string_view file, seal::Kind kind,
                                        std::string_view format) {
    if (auto small = check_size(bytes, file, kind); !small) {
        return small.problem();
    }
    auto found = seal::open_introduced(bytes, file, kind);
    if (!found) {
        return found.problem();
    }
    auto body = read_body(found->body, file, kind, format);
    if (!body) {
        return body.problem();
    }
    const seal::PublicKey key = *found->seal.key;
    return SealedJson{found->body, std::move(body).value(), std::move(found->seal), {key, {}, std::nullopt}};
}

model::Problem joined(Problem problem, const std::string& outer) {
    if (problem.where.starts_with(outer + ": /")) {
        problem.where.erase(outer.size(), 2);
    }
    return problem;
}

Sealed seal_json(const nlohmann::json& body, seal::Kind kind, const seal::KeyPair& key) {
    const std::string text = model::canonical(body);
    return {model::sha256_hex(text), seal::wrap(text, kind, key)};
}

Sealed seal_introduced_json(const nlohmann::json& body, seal::Kind kind, const seal::KeyPair& key,
                            const std::optional<seal::Vouch>& vouch) {
    const std::string text = model::canonical(body);
    return {model::sha256_hex(text), seal::wrap_introduced(text, kind, key, vouch)};
}

} // namespace crossarm::bundle
