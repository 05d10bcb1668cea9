// Bundles changed in every way somebody or something could change them: none is taken, each has its reason.
// CROSSARM_MUTATIONS sets how many there are; 2 000 in the ordinary run.
#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "sync/office/office_keys.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/office_desk.hpp"

#include <nlohmann/json.hpp>

#include <cstdlib>
#include <iostream>
#include <map>
#include <random>

using namespace crossarm;
using nlohmann::json;

namespace {

/// Any value within, chosen at random.
json* some_value(json& from, std::mt19937& dice) {
    json* at = &from;
    while (at->is_structured() && !at->empty() && (at == &from || dice() % 4 != 0)) {
        auto next = at->begin();
        std::advance(next, static_cast<std::ptrdiff_t>(dice() % at->size()));
        at = &*next;
    }
    return at;
}

void edit(json& body, std::mt19937& dice) {
    json& value = *some_value(body, dice);
    switch (dice() % 6) {
    case 0:
        value = static_cast<int>(dice() % 1000) - 500;
        break;
    case 1:
        value = "x" + std::to_string(dice() % 1000);
        break;
    case 2:
        value = json::array();
        break;
    case 3:
        value = nullptr;
        break;
    case 4:
        if (value.is_object()) {
            value["more"] = dice() % 2 == 0;
        } else {
            value = !(value == json(true));
        }
        break;
    default:
        if (value.is_structured() && !value.empty()) {
            auto gone = value.begin();
            std::advance(gone, static_cast<std::ptrdiff_t>(dice() % value.size()));
            value.erase(gone);
        } else if (value.is_string() && !value.get_ref<const std::string&>().empty()) {
            value.get_ref<std::string&>().back() ^= 1;
        } else {
            value = json::object();
        }
    }
}

/// Canonical text, or "" for what no canonical text can say.
std::string text_of(const json& file) {
    try {
        (void)file.dump(); // an edited text may not be UTF-8 any more
    } catch (const json::exception&) {
        return "";
    }
    return model::canonical(file);
}

struct Mutator {
    std::vector<bundle::Sealed> good;
    std::mt19937 dice{14032026};

    std::string one(std::string& how) {
        const std::string& bytes = good[dice() % good.size()].bytes;
        const std::string& other = good[dice() % good.size()].bytes;
        switch (dice() % 8) {
        case 0: {
            how = "bits";
            std::string out = bytes;
            for (unsigned i = 0; i <= dice() % 3; ++i) {
                char& byte = out[dice() % out.size()];
                byte = static_cast<char>(static_cast<unsigned char>(byte) ^ (1U << (dice() % 8)));
            }
            return out;
        }
        case 1:
            how = "truncation";
            return bytes.substr(0, dice() % bytes.size());
        case 2: {
            how = "bytes put in or taken out";
            std::string out = bytes;
            const std::size_t at = dice() % out.size();
            dice() % 2 == 0 ? out.insert(at, 1 + dice() % 40, static_cast<char>(dice() % 256))
                            : out.erase(at, 1 + dice() % 40);
            return out;
        }
        case 3: {
            how = "field edited";
            json file = json::parse(bytes);
            edit(file["body"], dice);
            return text_of(file);
        }
        case 4: {
            how = "field edited, digest worked out again";
            json file = json::parse(bytes);
            edit(file["body"], dice);
            const std::string body = text_of(file["body"]);
            file["seal"]["digest"] = model::sha256_hex(body);
            return body.empty() ? "" : text_of(file);
        }
        case 5: {
            how = "seal of another device, or body of one";
            const json mine = json::parse(bytes);
            const json theirs = json::parse(other);
            return bytes == other ? "" : text_of({{"body", mine["body"]}, {"seal", theirs["seal"]}});
        }
        case 6: {
            how = "entries of another device, digest worked out again";
            json mine = json::parse(bytes);
            const json theirs = json::parse(other);
            mine["body"]["entries"] = theirs["body"]["entries"];
            mine["seal"]["digest"] = model::sha256_hex(text_of(mine["body"]));
            return bytes == other ? "" : text_of(mine);
        }
        default: {
            // The key of one device seals what another one is said to have written.
            how = "sealed by another enrolled device";
            json file = json::parse(bytes);
            if (dice() % 2 == 0) {
                edit(file["body"], dice);
            }
            const json& device = file["body"]["device"];
            if (!file["body"].is_object() || !device.is_string() || text_of(file["body"]).empty()) {
                return "";
            }
            const std::string name =
                tests::sample_device(device.get<std::string>() == tests::sample_device(2) ? 3 : 2);
            return bundle::seal_json(file["body"], seal::Kind::Bundle, tests::desk_key(name)).bytes;
        }
        }
    }
};

} // namespace

TEST_CASE("no changed bundle is taken, and each is refused with where, what and what to do") {
    const char* wanted = std::getenv("CROSSARM_MUTATIONS");
    const std::size_t count = wanted == nullptr ? 2'000 : std::strtoul(wanted, nullptr, 10);
    const tests::OfficeDesk desk;
    const auto store = desk.open();
    const auto ring = office::keys_for_intake(store, tests::kOfficeNow);
    REQUIRE(ring.ok());
    Mutator mutator;
    std::map<std::string, bool> genuine;
    for (unsigned i = 1; i <= 12; ++i) {
        mutator.good.push_back(tests::sealed(tests::sample_bundle(i, tests::sample_device(1 + i % 2))));
        genuine[mutator.good.back().bytes] = true;
        REQUIRE(bundle::read_bundle(mutator.good.back().bytes, "good.json", *ring).ok());
    }
    std::map<std::string, std::size_t> refused;
    std::size_t made = 0;
    while (made < count) {
        std::string how;
        const std::string bytes = mutator.one(how);
        if (bytes.empty() || genuine.contains(bytes)) {
            continue; // nothing changed
        }
        ++made;
        const auto read = bundle::read_bundle(bytes, "changed.json", *ring);
        if (read.ok()) {
            FAIL("taken: " << how << ", mutation " << made << ": " << bytes);
        }
        const model::Problem& why = read.problem();
        if (!why.where.starts_with("changed.json") || why.what.size() < 5 || why.remedy.size() < 5) {
            FAIL("no reason: " << how << ", mutation " << made << ": " << model::to_text(why));
        }
        ++refused[how];
    }
    std::cout << made << " changed bundles, 0 taken:";
    for (const auto& [how, number] : refused) {
        std::cout << "\n  " << number << ' ' << how;
    }
    std::cout << '\n';
    CHECK(refused.size() == 8);
}
