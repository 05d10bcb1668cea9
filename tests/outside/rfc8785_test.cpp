// Canonical JSON against RFC 8785: its appendix B and its samples of sections 3.2.2 and 3.2.3. Texts that RFC
// 8259 or RFC 7493 do not allow are refused.
#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "tests/support/catch.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <string>
#include <vector>

using namespace crossarm;

namespace {

std::string text_of(std::uint64_t bits) {
    return model::canonical_number(std::bit_cast<double>(bits));
}

std::string canonical_of(const std::string& text) {
    const auto json = model::parse_json(text, "t.json");
    INFO((json ? "" : model::to_text(json.problem())));
    REQUIRE(json.ok());
    return model::canonical(*json);
}

} // namespace

TEST_CASE("numbers of RFC 8785 appendix B") {
    struct Row {
        std::uint64_t bits;
        const char* text;
    };
    const std::vector<Row> rows = {
        {0x0000000000000000, "0"},
        {0x8000000000000000, "0"},
        {0x0000000000000001, "5e-324"},
        {0x8000000000000001, "-5e-324"},
        {0x7fefffffffffffff, "1.7976931348623157e+308"},
        {0xffefffffffffffff, "-1.7976931348623157e+308"},
        {0x4340000000000000, "9007199254740992"},
        {0xc340000000000000, "-9007199254740992"},
        {0x4430000000000000, "295147905179352830000"},
        {0x44b52d02c7e14af5, "9.999999999999997e+22"},
        {0x44b52d02c7e14af6, "1e+23"},
        {0x44b52d02c7e14af7, "1.0000000000000001e+23"},
        {0x444b1ae4d6e2ef4e, "999999999999999700000"},
        {0x444b1ae4d6e2ef4f, "999999999999999900000"},
        {0x444b1ae4d6e2ef50, "1e+21"},
        {0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7"},
        {0x3eb0c6f7a0b5ed8d, "0.000001"},
        {0x41b3de4355555553, "333333333.3333332"},
        {0x41b3de4355555554, "333333333.33333325"},
        {0x41b3de4355555555, "333333333.3333333"},
        {0x41b3de4355555556, "333333333.3333334"},
        {0x41b3de4355555557, "333333333.33333343"},
        {0xbecbf647612f3696, "-0.0000033333333333333333"},
        {0x43143ff3c1cb0959, "1424953923781206.2"},
    };
    for (const Row& row : rows) {
        CHECK(text_of(row.bits) == row.text);
    }
}

TEST_CASE(
    "a number's text reads back as the same number, and no shorter digits do (RFC 8785 section 3.2.2.3)") {
    std::mt19937_64 random(8785);
    for (int i = 0; i < 20'000; ++i) {
        const auto value = std::bit_cast<double>(random());
        if (!std::isfinite(value) || value == 0.0) {
            continue;
        }
        const std::string text = model::canonical_number(value);
        double back = 0.0;
        const auto read = std::from_chars(text.data(), text.data() + text.size(), back);
        REQUIRE(read.ptr == text.data() + text.size());
        REQUIRE(back == value);
        // printf with one digit less than the text has must not give the number back.
        const auto digits = std::ranges::count_if(text.substr(0, text.find('e')),
                                                  [](char c) { return c >= '0' && c <= '9'; });
        const auto zeros = text.find_first_not_of("-0.") - (text.front() == '-' ? 1U : 0U);
        const bool is_fraction = text.starts_with("0.") || text.starts_with("-0.");
        const int significant = static_cast<int>(digits) - (is_fraction ? static_cast<int>(zeros) - 1 : 0);
        if (significant > 1 && text.find_first_of(".e") != std::string::npos) {
            char shorter[64];
            std::snprintf(shorter, sizeof shorter, "%.*e", significant - 2, value);
            REQUIRE(std::strtod(shorter, nullptr) != value);
        }
    }
}

TEST_CASE("names are sorted by UTF-16 code units: the sample of RFC 8785 section 3.2.3") {
    const std::string given =
        R"({"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh",)"
        R"("1":"One","\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control",)"
        R"("\u00f6":"Latin Small Letter O With Diaeresis"})";
    CHECK(canonical_of(given) ==
          "{\"\\r\":\"Carriage Return\",\"1\":\"One\",\"\xC2\x80\":\"Control\",\"\xC3\xB6\":\"Latin Small "
          "Letter O With "
          "Diaeresis\",\"\xE2\x82\xAC\":\"Euro Sign\",\"\xF0\x9F\x98\x80\":\"Emoji: Grinning "
          "Face\",\"\xEF\xAC\xB3\":"
          "\"Hebrew Letter Dalet With Dagesh\"}");
}

TEST_CASE("literals, numbers and texts: the sample of RFC 8785 section 3.2.2") {
    const std::string given =
        R"({"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],)"
        R"("string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]})";
    CHECK(canonical_of(given) ==
          "{\"literals\":[null,true,false],\"numbers\":[333333333.3333333,1e+30,4.5,0.002,1e-27],"
          "\"string\":\"\xE2\x82\xAC$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}");
}

TEST_CASE("what RFC 8259 or I-JSON (RFC 7493) do not allow is refused with a sentence") {
    const std::vector<std::string> texts = {
        "",
        " ",
        "{",
        "[1,]",
        "[1 2]",
        "{\"a\"}",
        "{\"a\":}",
        "{a:1}",
        "{'a':1}",
        "[01]",
        "[+1]",
        "[.5]",
        "[1.]",
        "[1e]",
        "[0x1]",
        "[NaN]",
        "[Infinity]",
        "[-]",
        "[\"\t\"]",
        "[\"\\x41\"]",
        "[\"\\u12\"]",
        "[\"\\ud800\"]",
        "[\"\xC0\x80\"]",
        "[\"\xED\xA0\x80\"]",
        "[\"\xF4\x90\x80\x80\"]",
        "[\"abc]",
        "[nul]",
        "[True]",
        "[1]//",
        "[1]]",
        "\xEF\xBB\xBF{}",
        "{\"a\":1,\"a\":2}",
        "[9007199254740993]",
        "[100000000000000000000]",
        "[1e400]",
        std::string("[1]\0", 4),
        std::string(100'000, '['),
    };
    for (const std::string& text : texts) {
        INFO(text.substr(0, 20));
        const auto json = model::parse_json(text, "t.json");
        CHECK_FALSE(json.ok());
    }
}

TEST_CASE("a canonical text is its own canonical text") {
    for (const char* text :
         {R"({"a":[],"b":{},"c":"","d":-1.5,"e":1e-7})", "[]", "{}", "[0,1,-1,9007199254740991]"}) {
        CHECK(canonical_of(text) == text);
    }
}
