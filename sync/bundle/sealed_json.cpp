#include "sync/bundle/sealed_json.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/seal/frame.hpp"

#include <algorithm>

namespace crossarm::bundle {

namespace {

using model::Problem;
using model::Result;

// No text is longer until photos travel in the body.
constexpr model::JsonBounds kBounds{32, 200'000, 128, 64U * 1024U};

std::string again(std::string_view kind) {
    return "bring the " + std::string(kind) + " again from where it was made";
}

} // namespace

Result<SealedJson> open_sealed(std::string_view bytes, std::string_view file, std::string_view kind,
                               std::string_view format) {
    const std::string name(file);
    if (bytes.size() > kMostFileBytes) {
        return Problem{name, "is larger than " + std::to_string(kMostFileBytes) + " bytes", again(kind)};
    }
    const auto opened = seal::open(bytes, file, kind);
    if (!opened) {
        return opened.problem();
    }
    const std::string place = name + ": /body";
    auto body = model::parse_json(opened->body, place, kBounds);
    if (!body) {
        return Problem{body.problem().where, printable(body.problem().what), again(kind)};
    }
    const std::string canonical = model::canonical(*body);
    if (canonical != opened->body) {
        const auto differs = std::ranges::mismatch(canonical, opened->body).in1 - canonical.begin();
        return Problem{place,
                       "the text is not in the canonical form of RFC 8785 from byte " +
                           std::to_string(differs) + " of the body on",
                       "let the program write the " + std::string(kind) + ", and change nothing in it"};
    }
    const auto found = body->find("format");
    const bool is_text = found != body->end() && found->is_string();
    if (!is_text || found->get_ref<const std::string&>() != format) {
        return Problem{place + "/format",
                       is_text ? in_quotes(found->get<std::string>()) + " is not " + in_quotes(format)
                               : "the format is not named",
                       "give a " + std::string(kind) +
                           " of this version, or install the version that reads it"};
    }
    return SealedJson{std::move(body).value(), opened->seal.digest};
}

model::Problem joined(Problem problem, const std::string& outer) {
    if (problem.where.starts_with(outer + ": /")) {
        problem.where.erase(outer.size(), 2);
    }
    return problem;
}

SealedText seal_json(const nlohmann::json& body) {
    const std::string text = model::canonical(body);
    return {model::sha256_hex(text), seal::wrap(text)};
}

} // namespace crossarm::bundle
