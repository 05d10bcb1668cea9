// Canonical text and reading from outside. The number and order vectors stand in
// tests/outside/rfc8785_test.cpp.
#include "checklist/model/canonical.hpp"
#include "tests/support/catch.hpp"

#include <nlohmann/json.hpp>

#include <string>
#include <utility>
#include <vector>

using namespace crossarm::model;

TEST_CASE("what is not plain JSON within bounds is refused with place and remedy") {
    const std::vector<std::pair<std::string, std::string>> cases = {
        {"", "empty"},
        {"\xEF\xBB\xBF{}", "byte order mark"},
        {std::string("{}\0", 3), "NUL"},
        {R"({"a":1,"a":2})", "stands twice"},
        {R"({"a":9007199254740992})", "2^53"},
        {R"({"a":123456789012345678901234567890})", "2^53"},
        {R"({"a":1e999})", ""},
        {"[1,2", "line 1"},
        {"{\"a\":\"\xFF\"}", "line 1"},
        {"{} x", "line 1"},
        {"{\"a\":01}", "line 1"},
        {"nul", "line 1"},
        {"[1,]", "line 1"},
        {"'a'", "line 1"},
        {R"("\ud800")", "line 1"},
        {std::string(100'000, '['), "too deep"},
        {std::string(33, '[') + std::string(33, ']'), "too deep"},
    };
    for (const auto& [text, what] : cases) {
        INFO(text.substr(0, 60));
        const auto parsed = parse_json(text, "pack.json");
        REQUIRE_FALSE(parsed.ok());
        CHECK(parsed.problem().where == "pack.json");
        CHECK(parsed.problem().what.find(what) != std::string::npos);
        CHECK_FALSE(parsed.problem().remedy.empty());
    }
}

TEST_CASE("bounds on values and texts hold before a tree is built") {
    const std::string many = "[" + std::string(2000, '1') + "]";
    CHECK(parse_json("[1,2,3]", "x", {.depth = 2, .nodes = 4}).ok());
    CHECK_FALSE(parse_json("[1,2,3]", "x", {.depth = 2, .nodes = 3}).ok());
    CHECK_FALSE(parse_json(R"(["abcdef"])", "x", {.text_bytes = 5}).ok());
    CHECK_FALSE(parse_json(R"({"abcdef":1})", "x", {.name_bytes = 5}).ok());
}

TEST_CASE("canonical text does not change when it is read and written again") {
    const std::string text = R"({"a":[1,2.5,"x\n\"\\",true,null],"é":{},"😀":-0.001})";
    const auto parsed = parse_json(text, "x");
    REQUIRE(parsed.ok());
    const std::string once = canonical(*parsed);
    CHECK(canonical(*parse_json(once, "x")) == once);
}
