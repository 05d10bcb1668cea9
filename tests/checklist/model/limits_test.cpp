// Limit files: what is read, what is refused and how it is said, what is found.
#include "checklist/model/limits.hpp"

#include "tests/support/catch.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

using namespace crossarm;
using model::Unit;

namespace {

const std::string kHead = R"({"format":"crossarm.limits/1","id":"a","subject":"oil.x","title":"A",)"
                          R"("edition":"1","applies":"all",)";

std::string with_limits(const std::string& limits) {
    return kHead + R"("limits":[)" + limits + "]}";
}
std::string with_table(const std::string& table) {
    return kHead + R"("tables":[)" + table + "]}";
}

std::string said(const std::string& json) {
    const auto set = model::read_limit_set(json, "a.json");
    return set ? "accepted" : model::to_text(set.problem());
}

} // namespace

TEST_CASE("a limit file is read whole") {
    const auto set = model::read_limit_set(
        kHead + R"("note":"n","limits":[{"name":"breakdown.repair_below","value":{"value":40,"unit":"kV"},)"
                R"("clause":"Table 5","sure":"from memory","note":"why"}],)"
                R"("tables":[{"name":"damage","clause":"c","columns":["grade","days"],"units":["1","d"],)"
                R"("rows":[{"key":"none","values":[0,-1],"sure":"read"}]}]})",
        "a.json");
    REQUIRE(set.ok());
    CHECK(set->id == "a");
    CHECK(set->note == "n");
    CHECK(set->limits.at(0).note == "why");
    CHECK(set->value("breakdown.repair_below", Unit::Kilovolt) == 40.0);
    CHECK_FALSE(set->value("breakdown.repair_below", Unit::Volt));
    CHECK_FALSE(set->value("breakdown", Unit::Kilovolt));
    CHECK(set->find("nothing") == nullptr);
    CHECK(set->table("nothing") == nullptr);
    REQUIRE(set->table("damage") != nullptr);
    CHECK(set->table("damage")->rows.at(0).values == std::vector<double>{0, -1});
    CHECK(set->source_of("breakdown.repair_below") == model::Source{"a", "A", "Table 5", "from memory"});
    CHECK(set->source_of("nothing") == model::Source{"a", "A", "", ""});
}

TEST_CASE("a limit file that is wrong is refused with file, place and remedy") {
    const std::string limit = R"({"name":"n","value":{"value":1,"unit":"kV"},"clause":"c","sure":"read"})";
    CHECK(said(with_limits(limit)) == "accepted");
    CHECK(said(with_limits(limit + "," + limit)) ==
          "a.json: /limits/1/name: the limit \"n\" is there twice; remove one of the two");
    CHECK(
        said(with_limits(R"({"name":"n","value":{"value":1,"unit":"kiloV"},"clause":"c","sure":"read"})")) ==
        "a.json: /limits/0/value/unit: unknown unit \"kiloV\"; write a UCUM code that this program knows, "
        "for example \"kV\"");
    CHECK(said(with_limits(R"({"name":"n","value":{"value":"1","unit":"kV"},"clause":"c","sure":"read"})")) ==
          "a.json: /limits/0/value/value: this is not a number; write a number such as 41.2");
    CHECK(said(with_limits(R"({"name":"n","value":{"value":1,"unit":"kV"},"clause":"c","sure":"quite"})")) ==
          "a.json: /limits/0/sure: unknown word \"quite\"; write one of: read, second hand, from memory, "
          "derived, common practice");
    CHECK(said(with_limits(R"({"name":"n","value":{"value":1,"unit":"kV"},"clauze":"c","sure":"read"})")) ==
          "a.json: /limits/0/clauze: unknown member \"clauze\"; take it out or correct its name");
    CHECK(said(with_limits(R"({"name":"n","clause":"c","sure":"read"})")) ==
          "a.json: /limits/0/value: \"value\" is missing; add it");
    CHECK(said(with_limits(R"({"name":"","value":{"value":1,"unit":"kV"},"clause":"c","sure":"read"})")) ==
          "a.json: /limits/0/name: this text is empty; write it");
    CHECK(said(kHead + R"("limits":[]})") ==
          "a.json: /limits: the file has no figures; add \"limits\" or \"tables\"");
    CHECK(said(R"({"format":"crossarm.limits/2"})") ==
          "a.json: /format: this is \"crossarm.limits/2\", not a limit file of this version; use a file with "
          "the format \"crossarm.limits/1\"");
    for (const char* broken : {"", "[]", "3", "null", "{", "{}", "\xff", R"({"format":1})"}) {
        CHECK(said(broken) != "accepted");
    }
}

TEST_CASE("a table that is wrong is refused") {
    const auto table = [](const std::string& columns, const std::string& units, const std::string& rows) {
        return with_table(R"({"name":"t","clause":"c","columns":[)" + columns + R"(],"units":[)" + units +
                          R"(],"rows":[)" + rows + "]}");
    };
    const std::string row = R"({"key":"k","values":[1],"sure":"read"})";
    CHECK(said(table(R"("a")", R"("1")", row)) == "accepted");
    CHECK(said(table(R"("a")", R"("1")", row + "," + row)) ==
          "a.json: /tables/0/rows/1/key: the key \"k\" is there twice; remove one of the two rows");
    CHECK(said(table(R"("a","b")", R"("1")", row)) ==
          "a.json: /tables/0/units: there is not one unit for each column; write 2 units");
    CHECK(
        said(table(R"("a","b")", R"("1","d")", row)) ==
        "a.json: /tables/0/rows/0/values: the row does not have one number for each column; write 2 numbers");
    CHECK(said(table("", "", "")) == "a.json: /tables/0/columns: the table has no columns; name them");
    CHECK(said(table(R"("a")", R"("parsec")", row)).find("unknown unit \"parsec\"") != std::string::npos);
    CHECK(said(table(R"("a")", R"("1")", R"({"key":"k","values":[null],"sure":"read"})")) ==
          "a.json: /tables/0/rows/0/values/0: this is not a finite number; write a number");
}

TEST_CASE("the chosen set of a subject is used, else the first") {
    model::LimitLibrary library;
    for (const char* id : {"one", "two", "three"}) {
        model::LimitSet set;
        set.id = id;
        set.subject = set.id == "three" ? "other" : "oil.x";
        library.sets.push_back(set);
    }
    REQUIRE(library.for_subject("oil.x") != nullptr);
    CHECK(library.for_subject("oil.x")->id == "one");
    library.chosen = {{"oil.x", "two"}};
    CHECK(library.for_subject("oil.x")->id == "two");
    library.chosen = {{"oil.x", "gone"}};
    CHECK(library.for_subject("oil.x") == nullptr); // never silently another set than the chosen one
    CHECK(library.for_subject("nothing") == nullptr);
    CHECK(library.by_id("three") == &library.sets[2]);
}

TEST_CASE("every limit file that we ship is accepted, named after its id, and says how sure it is") {
    std::set<std::string> ids;
    const auto folder = std::filesystem::path(CROSSARM_SOURCE_DIR) / "assets" / "limits";
    for (const auto& file : std::filesystem::directory_iterator(folder)) {
        const std::string name = file.path().filename().string();
        std::ifstream in(file.path(), std::ios::binary);
        const std::string text(std::istreambuf_iterator<char>(in), {});
        const auto set = model::read_limit_set(text, name);
        INFO((set ? name : model::to_text(set.problem())));
        REQUIRE(set.ok());
        CHECK(ids.insert(set->id).second);
    }
    CHECK(ids.size() >= 2);
}

TEST_CASE("a shipped limit file cut off anywhere is refused and never read in part") {
    std::ifstream in(std::filesystem::path(CROSSARM_SOURCE_DIR) / "assets" / "limits" / "six-shots.json",
                     std::ios::binary);
    const std::string whole(std::istreambuf_iterator<char>(in), {});
    REQUIRE(model::read_limit_set(whole, "six-shots.json").ok());
    const std::size_t end = whole.find_last_of('}');
    for (std::size_t length = 0; length < end; ++length) {
        if (model::read_limit_set(whole.substr(0, length), "six-shots.json").ok()) {
            FAIL("accepted when cut to " << length << " bytes");
        }
    }
}
