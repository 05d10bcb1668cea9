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

TEST_CASE("keys and signatures on which libraries disagree: only the one that all of them take is taken") {
    // ed25519-speccheck, cases.json of commit 336651b (read): small orders, mixed orders, S beyond the
    // group's order, R in another form than its own. Published with it: what libsodium takes is number 3
    // alone.
    struct Row {
        std::string key;
        std::string message;
        std::string signature;
    };
    const std::vector<Row> rows = {
        {"c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac03fa",
         "8c93255d71dcab10e8f379c26200f3c7bd5f09d9bc3068d3ef4edeb4853022b6",
         "c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac037a"
         "0000000000000000000000000000000000000000000000000000000000000000"},
        {"c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac03fa",
         "9bd9f44f4dcc75bd531b56b2cd280b0bb38fc1cd6d1230e14861d861de092e79",
         "f7badec5b8abeaf699583992219b7b223f1df3fbbea919844e3f7c554a43dd43"
         "a5bb704786be79fc476f91d3f3f89b03984d8068dcf1bb7dfc6637b45450ac04"},
        {"f7badec5b8abeaf699583992219b7b223f1df3fbbea919844e3f7c554a43dd43",
         "aebf3f2601a0c8c5d39cc7d8911642f740b78168218da8471772b35f9d35b9ab",
         "c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac03fa"
         "8c4bd45aecaca5b24fb97bc10ac27ac8751a7dfe1baff8b953ec9f5833ca260e"},
        {"cdb267ce40c5cd45306fa5d2f29731459387dbf9eb933b7bd5aed9a765b88d4d",
         "9bd9f44f4dcc75bd531b56b2cd280b0bb38fc1cd6d1230e14861d861de092e79",
         "9046a64750444938de19f227bb80485e92b83fdb4b6506c160484c016cc1852f"
         "87909e14428a7a1d62e9f22f3d3ad7802db02eb2e688b6c52fcd6648a98bd009"},
        {"cdb267ce40c5cd45306fa5d2f29731459387dbf9eb933b7bd5aed9a765b88d4d",
         "e47d62c63f830dc7a6851a0b1f33ae4bb2f507fb6cffec4011eaccd55b53f56c",
         "160a1cb0dc9c0258cd0a7d23e94d8fa878bcb1925f2c64246b2dee1796bed512"
         "5ec6bc982a269b723e0668e540911a9a6a58921d6925e434ab10aa7940551a09"},
        {"cdb267ce40c5cd45306fa5d2f29731459387dbf9eb933b7bd5aed9a765b88d4d",
         "e47d62c63f830dc7a6851a0b1f33ae4bb2f507fb6cffec4011eaccd55b53f56c",
         "21122a84e0b5fca4052f5b1235c80a537878b38f3142356b2c2384ebad4668b7"
         "e40bc836dac0f71076f9abe3a53f9c03c1ceeeddb658d0030494ace586687405"},
        {"442aad9f089ad9e14647b1ef9099a1ff4798d78589e66f28eca69c11f582a623",
         "85e241a07d148b41e47d62c63f830dc7a6851a0b1f33ae4bb2f507fb6cffec40",
         "e96f66be976d82e60150baecff9906684aebb1ef181f67a7189ac78ea23b6c0e"
         "547f7690a0e2ddcd04d87dbc3490dc19b3b3052f7ff0538cb68afb369ba3a514"},
        {"442aad9f089ad9e14647b1ef9099a1ff4798d78589e66f28eca69c11f582a623",
         "85e241a07d148b41e47d62c63f830dc7a6851a0b1f33ae4bb2f507fb6cffec40",
         "8ce5b96c8f26d0ab6c47958c9e68b937104cd36e13c33566acd2fe8d38aa1942"
         "7e71f98a473474f2f13f06f97c20d58cc3f54b8bd0d272f42b695dd7e89a8c22"},
        {"f7badec5b8abeaf699583992219b7b223f1df3fbbea919844e3f7c554a43dd43",
         "fdaebc429f4a735932a160da1301080c13280eea8bc280d1b392c6b9e6ba3a5a",
         "edffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f"
         "454d370c8d9fc323a41450f8d513eafeb5b0697390c1e505a0d4ddc71f566607"},
        {"f7badec5b8abeaf699583992219b7b223f1df3fbbea919844e3f7c554a43dd43",
         "84b698d39be126ff55fe45079e6c8bf64a0d7db6994560b4e96b7021eb39c1a1",
         "edffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f"
         "084d5b99c2a9463d9c8bd5026916996984eeec87ddf1d3be329006ace1b37b09"},
    };
    for (std::size_t i = 0; i < rows.size(); ++i) {
        INFO("case " << i);
        CHECK(seal::verify(array_of<32>(rows[i].key), from_hex(rows[i].message),
                           array_of<64>(rows[i].signature)) == (i == 3));
    }
}

TEST_CASE("digests as base64url: RFC 6920 section 8.1, RFC 8037 appendix A.3") {
    const auto digest_of = [](const std::string& text) { return base64_of(model::sha256(text)); };
    CHECK(digest_of("Hello World!") == "f4OxZX_x_FO5LcGBSKHWXfwtSx-j1ncoSt3SABJtkGk");
    // The thumbprint of RFC 7638: the key's members, in order of their names.
    CHECK(digest_of(R"({"crv":"Ed25519","kty":"OKP","x":")" +
                    seal::to_text(seal::KeyPair::from_seed(array_of<32>(kSeed1)).public_key()) + R"("})") ==
          "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k");
}
