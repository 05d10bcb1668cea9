// Signatures, digests, base64url and the sealed frame against published values.
#include "checklist/model/digest.hpp"
#include "sync/seal/base64url.hpp"
#include "sync/seal/frame.hpp"
#include "tests/support/catch.hpp"

#include <string>
#include <vector>

using namespace crossarm;

namespace {

std::string from_hex(const std::string& hex) {
    std::string out;
    for (std::size_t i = 0; i + 1 < hex.size(); i += 2) {
        out += static_cast<char>(std::stoi(hex.substr(i, 2), nullptr, 16));
    }
    return out;
}

template<std::size_t N>
std::array<std::uint8_t, N> array_of(const std::string& hex) {
    const std::string bytes = from_hex(hex);
    REQUIRE(bytes.size() == N);
    std::array<std::uint8_t, N> out{};
    for (std::size_t i = 0; i < N; ++i) {
        out[i] = static_cast<std::uint8_t>(bytes[i]);
    }
    return out;
}

template<std::size_t N>
std::string base64_of(const std::array<std::uint8_t, N>& bytes) {
    return seal::to_base64url({reinterpret_cast<const char*>(bytes.data()), bytes.size()});
}

const char* const kSeed1 = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60";

} // namespace

TEST_CASE("Ed25519: RFC 8032 section 7.1, tests 1 to 3") {
    // Typed from memory; libsodium and the tests of other libraries give the same.
    struct Row {
        std::string seed;
        std::string key;
        std::string message;
        std::string signature;
    };
    const std::vector<Row> rows = {
        {kSeed1, "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
         "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25"
         "bf5"
         "f0595bbe24655141438e7a100b"},
        {"4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
         "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "72",
         "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387"
         "b2e"
         "aeb4302aeeb00d291612bb0c00"},
        {"c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
         "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "af82",
         "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7"
         "c15"
         "e9716ed28dc027beceea1ec40a"},
    };
    for (const Row& row : rows) {
        const auto pair = seal::KeyPair::from_seed(array_of<32>(row.seed));
        const auto signature = array_of<64>(row.signature);
        CHECK(pair.public_key() == array_of<32>(row.key));
        CHECK(pair.sign(from_hex(row.message)) == signature);
        CHECK(seal::verify(pair.public_key(), from_hex(row.message), signature));
        CHECK_FALSE(seal::verify(pair.public_key(), from_hex(row.message) + "x", signature));
    }
}

TEST_CASE("keys and signatures as base64url: RFC 8037 appendix A") {
    const auto pair = seal::KeyPair::from_seed(array_of<32>(kSeed1));
    CHECK(base64_of(pair.seed()) == "nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A");
    CHECK(seal::to_text(pair.public_key()) == "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo");
    CHECK(base64_of(pair.sign("eyJhbGciOiJFZERTQSJ9.RXhhbXBsZSBvZiBFZDI1NTE5IHNpZ25pbmc")) ==
          "hgyY0il_MGCjP0JzlnLWG1PPOt7-09PGcvMg3AIbQR6dWbhijcNR4ki4iylGjg5BhVsPt9g7sVvpAr_MuM0KAg");
}

TEST_CASE("the sealed file of the worked example, byte for byte") {
    // Two independent libraries, libsodium and OpenSSL, agreed on digest and signature.
    const std::string body =
        R"({"device":"t1","entries":[],"prev":"","seq":1,"visit":"017f22e2-79b0-7cc3-98c4-dc0c0c07398f"})";
    const std::string digest = "591bd092e00742ccc1cf03e854d37b55be571e9be9fa27ee241557bc5d9b7559";
    CHECK(body.size() == 93);
    CHECK(model::sha256_hex(body) == digest);
    const auto pair = seal::KeyPair::from_seed(array_of<32>(kSeed1));
    CHECK(pair.id() == "21fe31dfa154a261626bf854046fd227");
    CHECK(
        seal::wrap(body, seal::Kind::Bundle, pair) ==
        R"({"body":)" + body + R"(,"seal":{"by":"21fe31dfa154a261626bf854046fd227","digest":")" + digest +
            R"(","sig":"F0VFffBqB0TzIQNaG960j5Vq4wVybQkRLk1sheAr-hjgx1c3t_-5JHbZZlxptOHk9d1mM0sh6jkSox39h5vwDw"}})");
    // 0x21fe31dfa154a261626bf8 is 41094953138645262521232376, its last 25 digits are read out
    // (worked out with Python's integers).
    CHECK(seal::fingerprint(pair.public_key()) == "10949 53138 64526 25212 32376");
}

TEST_CASE("base64: RFC 4648 section 10, without padding") {
    const std::vector<std::pair<std::string, std::string>> rows = {
        {"", ""},           {"f", "Zg"},          {"fo", "Zm8"},         {"foo", "Zm9v"},
        {"foob", "Zm9vYg"}, {"fooba", "Zm9vYmE"}, {"foobar", "Zm9vYmFy"}};
    for (const auto& [bytes, text] : rows) {
        CHECK(seal::to_base64url(bytes) == text);
        CHECK(seal::from_base64url(text) == bytes);
    }
    CHECK(seal::to_base64url("\xfb\xff\xbf") == "-_-_"); // section 5: the last two letters
}

TEST_CASE("base64 that another reader would let pass is refused: one text for one value") {
    for (const char* text : {"Zh", "Zm9", "Zg==", "Zm8=", "Zg=", "Zg\n", " Zg", "Zm 9v", "Z",
                             "Z===", "====", "Zm9v====", "Zg==Zg==", "+/+/", "Zm9vYg\xc3\xa4"}) {
        INFO(text);
        CHECK_FALSE(seal::from_base64url(text));
    }
    CHECK_FALSE(seal::from_base64url(std::string_view("Zm9v\0", 5)));
}

TEST_CASE("SHA-256: the examples of FIPS 180") {
    // The full digests from memory; coreutils' sha256sum gives the same.
    CHECK(model::sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    CHECK(model::sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(model::sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(model::sha256_hex(std::string(1'000'000, 'a')) ==
          "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("malformed keys and signatures: small orders and numbers beyond the group's are refused") {
    // Facts of the curve, RFC 8032 section 5.1: the order L of the base point, and the points of small order
    // 1, 2 and 4. A signature whose S is not below L, or whose key is of small order, proves nothing.
    const auto pair = seal::KeyPair::from_seed(array_of<32>(kSeed1));
    auto signature = pair.sign("message");
    REQUIRE(seal::verify(pair.public_key(), "message", signature));
    const std::string order = from_hex("edd3f55c1a631258d69cf7a2def9de1400000000000000000000000000000010");
    unsigned carry = 0;
    for (std::size_t i = 0; i < 32; ++i) {
        const unsigned sum = signature[32 + i] + static_cast<unsigned char>(order[i]) + carry;
        signature[32 + i] = static_cast<std::uint8_t>(sum & 0xFFU);
        carry = sum >> 8U;
    }
    CHECK_FALSE(seal::verify(pair.public_key(), "message", signature));
    for (const char* key : {"0100000000000000000000000000000000000000000000000000000000000000",
                            "ecffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",
                            "0000000000000000000000000000000000000000000000000000000000000000",
                            "0000000000000000000000000000000000000000000000000000000000000080"}) {
        seal::Signature zero{};
        zero[0] = 1; // R the neutral point, S nought: holds for a key of order 1 in a careless verifier
        CHECK_FALSE(seal::verify(array_of<32>(key), "message", zero));
    }
}
