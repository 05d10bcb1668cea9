#include "sync/seal/frame.hpp"

#include "checklist/model/digest.hpp"
#include "sync/seal/base64url.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/test_keys.hpp"

#include <array>

using namespace crossarm;
using seal::Kind;

namespace {

const std::string kBody =
    R"({"device":"t1","entries":[],"prev":"","seq":1,"visit":"017f22e2-79b0-7cc3-98c4-dc0c0c07398f"})";
const seal::KeyPair kKey = tests::key_of("t1");
const seal::KeyRing kRing = tests::ring_of("t1");
constexpr std::array kKinds = {Kind::Bundle, Kind::DayPack, Kind::Receipt, Kind::Enrolment};

std::string what(const std::string& bytes, const seal::KeyRing& ring = kRing, Kind kind = Kind::Bundle) {
    const auto opened = seal::open(bytes, "x.json", kind, ring);
    return opened ? "" : model::to_text(opened.problem());
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    REQUIRE(text.find(from) != std::string::npos);
    return text.replace(text.find(from), from.size(), to);
}

} // namespace

TEST_CASE("opening gives the body as a slice of the file's own bytes, and whose key sealed it") {
    const std::string file = seal::wrap(kBody, Kind::Bundle, kKey);
    const auto opened = seal::open(file, "x.json", Kind::Bundle, kRing);
    REQUIRE(opened.ok());
    CHECK(opened->body == kBody);
    CHECK(opened->body.data() == file.data() + 8);
    CHECK(opened->seal.by == kKey.id());
    CHECK(opened->by.owner == seal::Owner{seal::Owner::Kind::Tablet, "t1", 1});
    CHECK(seal::wrap(kBody, Kind::Bundle, kKey) == file); // the same seal whenever it is made
}

TEST_CASE("a body may hold the words of the frame") {
    const std::string body = R"({"a":{"b":1,"seal":{"by":"","digest":"","sig":""}}})";
    const std::string file = seal::wrap(body, Kind::Bundle, kKey);
    REQUIRE(seal::open(file, "x.json", Kind::Bundle, kRing).ok());
    CHECK(seal::open(file, "x.json", Kind::Bundle, kRing)->body == body);
}

TEST_CASE("what is not sealed as it should be says where, what and what to do, each reason its own") {
    const std::string file = seal::wrap(kBody, Kind::Bundle, kKey);
    const std::string again = "; bring the bundle again from where it was made";
    CHECK(what("") == "x.json: byte 0: the file is empty" + again);
    CHECK(what("PK\x03\x04") ==
          "x.json: byte 0: this is not a bundle: it does not begin with {\"body\":" + again);
    CHECK(what(file.substr(0, 60)) ==
          "x.json: byte 60: the seal at the end of the file is missing: the file was cut or changed" + again);
    CHECK(what(file + "\n") == "x.json: /seal: the seal is not whole: the file was cut or changed" + again);
    CHECK(what(replaced(file, "t1", "t2"))
              .starts_with("x.json: /body: the content does not match its seal (sealed 591bd092, found "));
    const std::string id = kKey.id().substr(0, 8);
    CHECK(
        what(file, seal::KeyRing()) ==
        "x.json: /seal/by: the key " + id +
            " that sealed it is not known here; enrol the tablet that holds this key, then take it in again");
    seal::KeyRing revoked;
    revoked.add(
        {kKey.public_key(), {seal::Owner::Kind::Tablet, "t1", 1}, model::Timestamp{1'773'461'527'250, 330}});
    CHECK(what(file, revoked) ==
          "x.json: /seal/by: the key " + id +
              " that sealed it is revoked from 2026-03-14T09:42:07.250+05:30 on; find out who holds the key "
              "now; a "
              "tablet that is in good hands again begins a new life and is enrolled anew");
    // Another key under this key's name.
    const seal::KeyPair other = tests::key_of("t2");
    CHECK(
        what(replaced(seal::wrap(kBody, Kind::Bundle, other), other.id(), kKey.id())) ==
        "x.json: /seal/sig: the signature is not that of key " + id +
            ": whoever sealed this does not hold the key that it names; keep the file and ask where it comes "
            "from; do not use what it says");
    CHECK(what(seal::wrap(kBody, Kind::Receipt, kKey)) ==
          "x.json: /seal: it was sealed as a receipt, not as a bundle; give it where a receipt is asked for");
}

TEST_CASE("a file sealed as one kind is refused as any other") {
    for (const Kind made : kKinds) {
        for (const Kind asked : kKinds) {
            CHECK(seal::open(seal::wrap(kBody, made, kKey), "x", asked, kRing).ok() == (made == asked));
            CHECK(seal::open_introduced(seal::wrap_introduced(kBody, made, kKey), "x", asked).ok() ==
                  (made == asked));
        }
    }
}

TEST_CASE("cut at any byte or changed in any byte, a sealed file does not open") {
    const seal::KeyPair before = tests::key_of("before");
    for (const std::string& file :
         {seal::wrap(kBody, Kind::Bundle, kKey), seal::wrap_introduced(kBody, Kind::Bundle, kKey),
          seal::wrap_introduced(kBody, Kind::Bundle, kKey, seal::vouch_for(kKey.public_key(), before))}) {
        REQUIRE(seal::open(file, "x.json", Kind::Bundle, kRing).ok());
        for (std::size_t length = 0; length < file.size(); ++length) {
            CHECK_FALSE(seal::open(file.substr(0, length), "x.json", Kind::Bundle, kRing).ok());
        }
        // The word of another key is not part of what this key says; whoever needs it checks it.
        const std::size_t end = file.find(R"(,"vouch":{)");
        for (std::size_t i = 0; i < std::min(end, file.size()); ++i) {
            for (int bit = 0; bit < 8; ++bit) {
                std::string changed = file;
                changed[i] = static_cast<char>(static_cast<unsigned char>(changed[i]) ^ (1U << bit));
                CHECK_FALSE(seal::open(changed, "x.json", Kind::Bundle, kRing).ok());
            }
        }
    }
}

TEST_CASE("a digest worked out anew without the key does not help") {
    const std::string file = seal::wrap(kBody, Kind::Bundle, kKey);
    const std::string forged_body = replaced(kBody, "\"seq\":1", "\"seq\":2");
    std::string forged = replaced(file, kBody, forged_body);
    forged = replaced(forged, model::sha256_hex(kBody), model::sha256_hex(forged_body));
    CHECK(what(forged).starts_with("x.json: /seal/sig: "));
    // Nor does a seal as it was before there were keys.
    CHECK(what(R"({"body":)" + kBody + R"(,"seal":{"by":"","digest":")" + model::sha256_hex(kBody) +
               R"(","sig":""}})")
              .starts_with("x.json: /seal: the seal is not whole"));
}

TEST_CASE("a key that is not known is taken on the word of an office's key that is") {
    const seal::KeyPair next = tests::key_named("next office key");
    const auto vouch = seal::vouch_for(next.public_key(), tests::office_key());
    const auto seal_of = [&](const std::string& file) {
        return seal::open_introduced(file, "x", Kind::DayPack)->seal;
    };
    const std::string good = seal::wrap_introduced(kBody, Kind::DayPack, next, vouch);
    CHECK(seal::is_vouched(seal_of(good), tests::office_ring()));
    CHECK_FALSE(seal::is_vouched(seal_of(good), seal::KeyRing()));
    // No word, the word for another key, a tablet's word, and the word of a revoked key.
    CHECK_FALSE(
        seal::is_vouched(seal_of(seal::wrap_introduced(kBody, Kind::DayPack, next)), tests::office_ring()));
    const auto for_other = seal::vouch_for(kKey.public_key(), tests::office_key());
    CHECK_FALSE(seal::is_vouched(seal_of(seal::wrap_introduced(kBody, Kind::DayPack, next, for_other)),
                                 tests::office_ring()));
    const auto of_tablet = seal::vouch_for(next.public_key(), kKey);
    CHECK_FALSE(
        seal::is_vouched(seal_of(seal::wrap_introduced(kBody, Kind::DayPack, next, of_tablet)), kRing));
    seal::KeyRing revoked;
    revoked.add({tests::office_key().public_key(), {seal::Owner::Kind::Office, "o"}, model::Timestamp{}});
    CHECK_FALSE(seal::is_vouched(seal_of(good), revoked));
    // A changed word.
    const std::size_t at = good.rfind("\"sig\":\"") + 20;
    std::string changed = good;
    changed[at] = changed[at] == 'A' ? 'B' : 'A';
    CHECK_FALSE(seal::is_vouched(seal_of(changed), tests::office_ring()));
}

TEST_CASE("the key in a seal must be the one that the seal is named after") {
    const std::string file = seal::wrap_introduced(kBody, Kind::Enrolment, kKey);
    const std::string other = seal::to_text(tests::key_of("t2").public_key());
    CHECK_FALSE(
        seal::open_introduced(replaced(file, seal::to_text(kKey.public_key()), other), "x", Kind::Enrolment)
            .ok());
    CHECK_FALSE(seal::open_introduced(seal::wrap(kBody, Kind::Enrolment, kKey), "x", Kind::Enrolment).ok());
}

TEST_CASE("a fingerprint is five groups of five digits, and spaces and hyphens do not count") {
    const seal::PublicKey& key = kKey.public_key();
    const std::string digits = seal::fingerprint(key);
    CHECK(digits.size() == 29);
    CHECK(seal::is_fingerprint(digits, key));
    std::string typed = digits;
    typed.erase(5, 1);
    typed[10] = '-';
    CHECK(seal::is_fingerprint(typed, key));
    for (std::size_t i = 0; i < digits.size(); ++i) {
        std::string wrong = digits;
        if (wrong[i] != ' ') {
            wrong[i] = wrong[i] == '9' ? '0' : static_cast<char>(wrong[i] + 1);
            CHECK_FALSE(seal::is_fingerprint(wrong, key));
        }
    }
    CHECK_FALSE(seal::is_fingerprint("", key));
    CHECK_FALSE(seal::is_fingerprint(digits.substr(0, 23), key));
    CHECK_FALSE(seal::is_fingerprint(digits, tests::key_of("t2").public_key()));
}

TEST_CASE("a key pair moves and leaves nothing behind") {
    seal::KeyPair first = tests::key_of("t3");
    const std::string id = first.id();
    const seal::KeyPair second = std::move(first);
    CHECK(second.id() == id);
    CHECK(first.seed() == seal::Seed{}); // NOLINT(bugprone-use-after-move): that is the point
    CHECK(seal::KeyPair::from_seed(second.seed()).public_key() == second.public_key());
    CHECK(seal::KeyPair::make().id() != seal::KeyPair::make().id());
}
