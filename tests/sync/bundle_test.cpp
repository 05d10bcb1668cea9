#include "sync/bundle/bundle.hpp"

#include "checklist/model/canonical.hpp"
#include "sync/seal/frame.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/test_keys.hpp"

#include <nlohmann/json.hpp>

#include <functional>

using namespace crossarm;
using nlohmann::json;

namespace {

const std::string kDevice = tests::sample_device(1);
const seal::KeyPair kKey = tests::key_of(kDevice);
const seal::KeyRing kRing = tests::ring_of(kDevice);

/// Sealed by the tablet's own key: whatever is wrong with it comes after the seal.
std::string sealed(std::string_view body) {
    return seal::wrap(body, seal::Kind::Bundle, kKey);
}

json body_of(const std::string& bytes) {
    return json::parse(bytes)["body"];
}

std::string resealed(const json& body) {
    return sealed(model::canonical(body));
}

std::string what(const std::string& bytes) {
    const auto read = bundle::read_bundle(bytes, "b.json", kRing);
    return read ? "" : model::to_text(read.problem());
}

/// The bundle with the i-th and later entries chained anew after `change` of the i-th.
std::string rechained(const bundle::Bundle& from, std::size_t i, const std::function<void(json&)>& change) {
    bundle::Bundle out = from;
    std::string prev = i == 0 ? "" : model::hash_of(out.entries[i - 1]);
    for (std::size_t k = i; k < out.entries.size(); ++k) {
        json entry = json::parse(out.entries[k]);
        entry["prev"] = prev;
        if (entry["kind"] == "signed") {
            entry["data"]["head"] = prev;
        }
        if (k == i) {
            change(entry);
        }
        out.entries[k] = model::canonical(entry);
        prev = model::hash_of(out.entries[k]);
    }
    return bundle::write_bundle(out, kKey).bytes;
}

} // namespace

TEST_CASE("a bundle reads back as it was written") {
    const bundle::Bundle written = tests::sample_bundle(1);
    const bundle::Sealed sealed = bundle::write_bundle(written, kKey);
    const auto read = bundle::read_bundle(sealed.bytes, "b.json", kRing);
    INFO((read ? "" : model::to_text(read.problem())));
    REQUIRE(read.ok());
    CHECK(read->digest == sealed.digest);
    CHECK(read->bundle.device == written.device);
    CHECK(read->bundle.visit == written.visit);
    CHECK(read->bundle.protocol_digest == written.protocol_digest);
    CHECK(read->bundle.day_pack == 12);
    CHECK(read->bundle.structure == written.structure);
    CHECK(read->bundle.entries == written.entries);
    CHECK(read->bundle.verdicts == written.verdicts);
    REQUIRE(read->entries.size() == written.entries.size());
    CHECK(model::to_canonical(read->entries.front()) == written.entries.front());
    CHECK(bundle::write_bundle(read->bundle, kKey).bytes == sealed.bytes);
}

TEST_CASE("the entries stand in the file exactly as their canonical texts") {
    const bundle::Bundle written = tests::sample_bundle(2);
    const std::string bytes = bundle::write_bundle(written, kKey).bytes;
    for (const std::string& text : written.entries) {
        CHECK(bytes.find(text) != std::string::npos);
    }
}

TEST_CASE("a bundle cut at any byte or changed in any byte is refused with a place") {
    bundle::Bundle small = tests::sample_bundle(3);
    small.verdicts.clear();
    const std::string bytes = bundle::write_bundle(small, kKey).bytes;
    for (std::size_t length = 0; length < bytes.size(); ++length) {
        const auto read = bundle::read_bundle(std::string_view(bytes).substr(0, length), "b.json", kRing);
        REQUIRE_FALSE(read.ok());
        REQUIRE(read.problem().where.starts_with("b.json: "));
    }
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        for (const unsigned flip : {0x01U, 0x20U, 0x80U}) {
            std::string changed = bytes;
            changed[i] = static_cast<char>(static_cast<unsigned char>(changed[i]) ^ flip);
            const auto read = bundle::read_bundle(changed, "b.json", kRing);
            REQUIRE_FALSE(read.ok());
            REQUIRE(read.problem().where.starts_with("b.json: "));
        }
    }
}

TEST_CASE("sealed again over changed bytes, a bundle never crashes the reader") {
    // The digest is right here, so the change reaches the parser, the canonical gate, shape and meaning.
    bundle::Bundle small = tests::sample_bundle(4);
    const std::string file = bundle::write_bundle(small, kKey).bytes;
    const std::string body(seal::find_body(file, "b.json", seal::Kind::Bundle)->body);
    std::size_t taken = 0;
    std::size_t tried = 0;
    std::mt19937 random(4);
    for (std::size_t i = 1; i + 1 < body.size(); i += 1 + random() % 20U) {
        std::string changed = body;
        changed[i] = static_cast<char>(static_cast<unsigned char>(changed[i]) ^ (1U << random() % 8U));
        taken += bundle::read_bundle(sealed(changed), "b.json", kRing).ok() ? 1U : 0U;
        tried += 1;
        CHECK_FALSE(bundle::read_bundle(sealed(body.substr(0, i) + "}"), "b.json", kRing).ok());
    }
    // Whoever holds the key can seal other free words (names, workings).
    CHECK(taken < tried / 2);
}

TEST_CASE("every step of reading refuses with file, place and remedy") {
    const bundle::Bundle good = tests::sample_bundle(5);
    const std::string bytes = bundle::write_bundle(good, kKey).bytes;
    const json body = body_of(bytes);
    const std::string again = "; write the bundle again on the tablet";

    SECTION("not canonical: a space in the text") {
        std::string text = model::canonical(body);
        text.insert(1, " ");
        CHECK(what(sealed(text)) ==
              "b.json: /body: the text is not in the canonical form of RFC 8785 from byte 1 "
              "of the body on; let the program write the bundle, and change nothing in it");
    }
    SECTION("a name twice") {
        CHECK(what(sealed(R"({"a":1,"a":1})")) ==
              "b.json: /body: the name \"a\" stands twice in one object; bring "
              "the bundle again from where it was made");
    }
    SECTION("nested too deep") {
        CHECK(what(sealed("{\"a\":" + std::string(100'000, '[') + std::string(100'000, ']') + "}")) ==
              "b.json: /body: it is nested too deep; bring the bundle again from where it was made");
    }
    SECTION("another format") {
        json other = body;
        other["format"] = "crossarm.bundle/2";
        CHECK(what(resealed(other)) ==
              "b.json: /body/format: \"crossarm.bundle/2\" is not \"crossarm.bundle/1\"; give "
              "a bundle of this version, or install the version that reads it");
    }
    SECTION("a member missing") {
        json other = body;
        other.erase("visit");
        CHECK(what(resealed(other)) == "b.json: /body/visit: \"visit\" is missing; add it");
    }
    SECTION("an unknown member") {
        json other = body;
        other["extra"] = 1;
        CHECK(what(resealed(other)) ==
              "b.json: /body/extra: unknown member \"extra\"; take it out or correct its name");
    }
    SECTION("a rating that cannot be") {
        json other = body;
        other["register"]["rating_kVA"] = 7000;
        CHECK(what(resealed(other)) ==
              "b.json: /body/register/rating_kVA: 7000 is not from 5 to 5000; write the "
              "rating in kVA, for example 100");
    }
    SECTION("bundle 2 that names no bundle before it") {
        json other = body;
        other["seq"] = 2;
        CHECK(what(resealed(other)) ==
              "b.json: /body/prev: bundle 1 has no bundle before it, and every other has one" + again);
    }
    SECTION("an entry left out") {
        json other = body;
        other["entries"].erase(3);
        CHECK(what(resealed(other)) ==
              "b.json: /body/entries/3/seq: entry 4 of this device is missing: 5 stands "
              "here" +
                  again + " and bring that one");
    }
    SECTION("an entry changed") {
        json other = body;
        other["entries"][1]["data"]["value"]["quantity"]["value"] = 9.9;
        CHECK(what(resealed(other)) ==
              "b.json: /body/entries/2/prev: the chain is broken: this is not the hash of "
              "the entry before" +
                  again + " and bring that one");
    }
    SECTION("an entry of another visit") {
        CHECK(what(rechained(good, 2,
                             [](json& entry) { entry["visit"] = model::to_text(tests::sample_id(9)); })) ==
              "b.json: /body/entries/2/visit: the entry belongs to another visit" + again +
                  " and bring that one");
    }
    SECTION("one id twice") {
        CHECK(what(rechained(good, 2, [&](json& entry) {
                  entry["id"] = json::parse(good.entries[1])["id"];
              })) == "b.json: /body/entries/2/id: two entries have this id" + again + " and bring that one");
    }
    SECTION("opened at another structure") {
        CHECK(what(rechained(good, 0, [](json& entry) { entry["data"]["structure"] = "QM-0199"; })) ==
              "b.json: /body/entries/0/data/structure: the visit was opened at QM-0199, the bundle's "
              "register is of "
              "QM-0105" +
                  again + " and bring that one");
    }
    SECTION("another tablet's key, and another life's") {
        const std::string device = tests::sample_device(2);
        const auto other = bundle::read_bundle(bundle::write_bundle(good, tests::key_of(device)).bytes,
                                               "b.json", tests::ring_of(device));
        REQUIRE_FALSE(other.ok());
        CHECK(model::to_text(other.problem()) ==
              "b.json: /body/device: the bundle speaks for life 1 of tablet " + kDevice +
                  ", but its key is that of life 1 of tablet " + device +
                  "; ask who wrote it; a tablet seals in its own name only");
        bundle::Bundle older = good;
        older.life = 2;
        CHECK(what(bundle::write_bundle(older, kKey).bytes).find("but its key is that of life 1") !=
              std::string::npos);
    }
    SECTION("nobody signed") {
        bundle::Bundle open = good;
        open.entries.pop_back();
        CHECK(what(bundle::write_bundle(open, kKey).bytes) ==
              "b.json: /body/entries: nobody has signed the visit" + again + " and bring that one");
    }
    SECTION("signed by the one who did the work") {
        const std::size_t last = good.entries.size() - 1;
        CHECK(what(rechained(good, last, [](json& entry) { entry["by"] = "P-014"; })) ==
              "b.json: /body/entries/" + std::to_string(last) +
                  "/by: P-014 signed the visit and also worked on it" + again + " and bring that one");
    }
    SECTION("a signature over something else") {
        const std::size_t last = good.entries.size() - 1;
        CHECK(
            what(rechained(good, last, [](json& entry) { entry["data"]["head"] = std::string(64, '0'); })) ==
            "b.json: /body/entries/" + std::to_string(last) +
                "/data/head: what was signed is not the entry before the signature" + again +
                " and bring that one");
    }
    SECTION("recorded after the signature") {
        bundle::Bundle late = good;
        model::Entry entry = *model::read_entry(late.entries[1], "");
        entry.id = tests::sample_id(77);
        entry.seq = static_cast<std::int64_t>(late.entries.size()) + 1;
        entry.prev = model::hash_of(late.entries.back());
        late.entries.push_back(model::to_canonical(entry));
        CHECK(what(bundle::write_bundle(late, kKey).bytes) ==
              "b.json: /body/entries/" + std::to_string(good.entries.size()) +
                  "/kind: something was recorded after the signature" + again + " and bring that one");
    }
}
