// What the reader of protocol files takes and refuses.
#include "checklist/model/protocol.hpp"

#include "checklist/model/nearest.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

namespace model = crossarm::model;
namespace fs = std::filesystem;

namespace {

std::string text_of(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    REQUIRE(in);
    return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<fs::path> json_files(const char* folder) {
    std::vector<fs::path> out;
    for (const auto& one : fs::directory_iterator(fs::path(CROSSARM_TEST_DATA) / folder)) {
        if (one.path().extension() == ".json") {
            out.push_back(one.path());
        }
    }
    std::ranges::sort(out);
    return out;
}

} // namespace

TEST_CASE("The reader takes every accepted protocol") {
    for (const fs::path& path : json_files("accept/protocol")) {
        INFO(path.filename().string());
        const auto read = model::read_protocol(text_of(path), path.filename().string());
        INFO((read ? std::string() : model::to_text(read.problem())));
        CHECK(read.ok());
    }
}

TEST_CASE("What a file leaves out has its default") {
    const fs::path folder = fs::path(CROSSARM_TEST_DATA) / "accept/protocol";
    const auto smallest = model::read_protocol(text_of(folder / "smallest.json"), "smallest.json");
    REQUIRE(smallest.ok());
    CHECK(smallest->checkpoint("tank.oil_level")->needed);
    CHECK(smallest->checkpoint("tank.oil_level")->may_be_out_of_reach);
    CHECK_FALSE(smallest->checkpoint("tank.oil_level")->may_be_not_fitted);
    CHECK_FALSE(smallest->checkpoint("arrive.position")->may_be_out_of_reach);
    CHECK(std::get<model::GradeInput>(smallest->checkpoint("tank.rust")->input).watch.empty());

    const auto every = model::read_protocol(text_of(folder / "every_member.json"), "every_member.json");
    REQUIRE(every.ok());
    CHECK(every->edition == 7);
    CHECK_FALSE(every->checkpoint("tank.oil_level")->needed);
    CHECK_FALSE(every->checkpoint("tank.oil_level")->may_be_out_of_reach);
    CHECK(every->checkpoint("tank.oil_level")->may_be_not_fitted);
    CHECK(every->checkpoint("arrive.weather")->may_be_out_of_reach);
}

TEST_CASE("Every refused protocol is refused with its place, what is wrong and the remedy") {
    const std::vector<fs::path> files = json_files("refuse/protocol");
    CHECK(files.size() >= 50);
    for (const fs::path& path : files) {
        INFO(path.filename().string());
        const auto read = model::read_protocol(text_of(path), path.filename().string());
        REQUIRE_FALSE(read.ok());
        CHECK(model::to_text(read.problem()) + "\n" == text_of(fs::path(path).replace_extension(".txt")));
    }
}

TEST_CASE("A protocol cut at any byte is refused under its name") {
    const std::string whole = text_of(fs::path(CROSSARM_TEST_DATA) / "accept/protocol/smallest.json");
    const std::size_t end = whole.find_last_of('}');
    for (std::size_t length = 0; length <= end; ++length) {
        const auto read = model::read_protocol(std::string_view(whole).substr(0, length), "cut.json");
        REQUIRE_FALSE(read.ok());
        REQUIRE(read.problem().where.starts_with("cut.json"));
        REQUIRE_FALSE(read.problem().remedy.empty());
    }
}

TEST_CASE("A protocol with any byte changed is read or refused, never a crash") {
    const std::string whole = text_of(fs::path(CROSSARM_TEST_DATA) / "accept/protocol/every_member.json");
    std::mt19937 random(20260314);
    for (int round = 0; round < 3000; ++round) {
        std::string changed = whole;
        changed[random() % changed.size()] = static_cast<char>(random() % 256);
        const auto read = model::read_protocol(changed, "changed.json");
        REQUIRE((read.ok() || read.problem().where.starts_with("changed.json")));
    }
}

TEST_CASE("The nearest known word is offered for a mistyped one") {
    const std::vector<std::string> known = {"kV", "V", "watch", "repair"};
    CHECK(model::nearest_word(known, "wacht") == "watch");
    CHECK(model::nearest_word(known, "kv") == "kV");
    CHECK(model::nearest_word(known, "furlong").empty());
    CHECK(model::nearest_word(known, "").empty());
    CHECK(model::nearest_word({}, "watch").empty());
    CHECK(model::nearest_word(known, std::string(100'000, 'w')).empty());
    CHECK(model::unknown_word("unit", "kv", known) == "unknown unit \"kv\"; nearest is \"kV\"");
}
