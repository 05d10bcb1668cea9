#include "sync/seal/frame.hpp"

#include "checklist/model/digest.hpp"
#include "tests/support/catch.hpp"

using namespace crossarm;

namespace {

// A worked example that two independent programs agreed on (sha256sum and Python's hashlib give the same).
const std::string kBody =
    R"({"device":"t1","entries":[],"prev":"","seq":1,"visit":"017f22e2-79b0-7cc3-98c4-dc0c0c07398f"})";
const std::string kDigest = "591bd092e00742ccc1cf03e854d37b55be571e9be9fa27ee241557bc5d9b7559";

std::string what(const std::string& bytes) {
    const auto opened = seal::open(bytes, "x.json", "bundle");
    return opened ? "" : model::to_text(opened.problem());
}

} // namespace

TEST_CASE("the sealed file of the worked example, byte for byte") {
    CHECK(kBody.size() == 93);
    CHECK(model::sha256_hex(kBody) == kDigest);
    CHECK(seal::wrap(kBody) ==
          R"({"body":)" + kBody + R"(,"seal":{"by":"","digest":")" + kDigest + R"(","sig":""}})");
}

TEST_CASE("opening gives the body as a slice of the file's own bytes") {
    const std::string file = seal::wrap(kBody);
    const auto opened = seal::open(file, "x.json", "bundle");
    REQUIRE(opened.ok());
    CHECK(opened->body == kBody);
    CHECK(opened->body.data() == file.data() + 8);
    CHECK(opened->seal.digest == kDigest);
    CHECK(opened->seal.by.empty());
    CHECK(opened->seal.sig.empty());
}

TEST_CASE("a body may hold the words of the frame") {
    const std::string body = R"({"a":{"b":1,"seal":{"by":"","digest":"","sig":""}}})";
    const std::string file = seal::wrap(body);
    REQUIRE(seal::open(file, "x.json", "bundle").ok());
    CHECK(seal::open(file, "x.json", "bundle")->body == body);
}

TEST_CASE("what is no sealed file says where and what to do") {
    const std::string file = seal::wrap(kBody);
    CHECK(what("") == "x.json: byte 0: the file is empty; bring the bundle again from where it was made");
    CHECK(what("PK\x03\x04") ==
          "x.json: byte 0: this is not a bundle: it does not begin with {\"body\":; bring the "
          "bundle again from where it was made");
    CHECK(what(file.substr(0, 60)) ==
          "x.json: byte 60: the seal at the end of the file is missing: the file was cut "
          "or changed; bring the bundle again from where it was made");
    CHECK(what(file + "\n") ==
          "x.json: /seal: the seal is not whole: the file was cut or changed; bring the bundle "
          "again from where it was made");
    std::string changed = file;
    changed[20] = 'X';
    CHECK(what(changed).starts_with(
        "x.json: /body: the content does not match its seal (sealed 591bd092, found "));
}

TEST_CASE("cut at any byte or changed in any byte, a sealed file does not open") {
    const std::string file = seal::wrap(kBody);
    for (std::size_t length = 0; length < file.size(); ++length) {
        CHECK_FALSE(seal::open(file.substr(0, length), "x.json", "bundle").ok());
    }
    for (std::size_t i = 0; i < file.size(); ++i) {
        std::string changed = file;
        changed[i] = static_cast<char>(changed[i] ^ 0x01);
        CHECK_FALSE(seal::open(changed, "x.json", "bundle").ok());
    }
}
