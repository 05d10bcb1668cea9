#include "sync/office/watch.hpp"

#include "sync/office/settling.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/office_desk.hpp"

#include <filesystem>

using namespace crossarm;
using office::Line;
using office::Look;
using office::Settling;

namespace {
using Names = std::vector<std::string>;
}

TEST_CASE("a file is offered once, when it has been quiet, and again only after it changed") {
    Settling settling(1'000);
    CHECK(settling.wait_ms(0, 9'000) == 9'000);
    CHECK(settling.see({{"a", {10, 1, 7}}}, 0).empty());
    CHECK(settling.wait_ms(400, 9'000) == 600);
    // Still growing.
    CHECK(settling.see({{"a", {20, 2, 7}}}, 900).empty());
    CHECK(settling.see({{"a", {20, 2, 7}}, {"b", {5, 1, 8}}}, 1'800).empty());
    CHECK(settling.see({{"a", {20, 2, 7}}, {"b", {5, 1, 8}}}, 1'900) == Names{"a"});
    CHECK(settling.see({{"a", {20, 2, 7}}, {"b", {5, 1, 8}}}, 2'800) == Names{"b"});
    CHECK(settling.see({{"a", {20, 2, 7}}, {"b", {5, 1, 8}}}, 99'000).empty());
    CHECK(settling.wait_ms(99'000, 9'000) == 9'000);
    // The rest of it came after all; same size and time, but another file, counts too.
    CHECK(settling.see({{"a", {30, 3, 7}}, {"b", {5, 1, 9}}}, 100'000).empty());
    CHECK(settling.see({{"a", {30, 3, 7}}, {"b", {5, 1, 9}}}, 101'000) == Names{"a", "b"});
    settling.again({"b", "gone"});
    CHECK(settling.see({{"a", {30, 3, 7}}, {"b", {5, 1, 9}}}, 101'001) == Names{"b"});
    // Taken away and brought again.
    CHECK(settling.see({}, 102'000).empty());
    CHECK(settling.see({{"a", {30, 3, 7}}}, 103'000).empty());
    CHECK(settling.see({{"a", {30, 3, 7}}}, 104'000) == Names{"a"});
}

TEST_CASE("what arrives in a watched folder is taken in, and a half one when the rest of it is there") {
    const tests::OfficeDesk desk;
    (void)desk.open();
    const std::string good = tests::sealed_sample(1).bytes;
    desk.put("a.json", good.substr(0, 500));
    int looks = 0;
    std::vector<Line> lines;
    office::WatchManner manner;
    manner.quiet_ms = 0;
    manner.look_ms = 20;
    manner.look_blind_ms = 20;
    manner.now = [] { return tests::kOfficeNow; };
    manner.trouble = [](const model::Problem& problem) { FAIL(model::to_text(problem)); };
    manner.taken = [&](const office::Intake& intake) {
        lines.insert(lines.end(), intake.lines.begin(), intake.lines.end());
        if (lines.size() == 1) {
            desk.put("a.json", good);
            desk.put("b.json.part", good);
        }
        if (lines.size() == 2) {
            desk.put(".hidden", tests::sealed_sample(2).bytes);
            std::filesystem::rename(desk.in + "/.hidden", desk.in + "/c.json");
        }
    };
    manner.go_on = [&] { return ++looks < 500 && lines.size() < 3; };
    REQUIRE(office::watch(desk.path, desk.in, manner).ok());
    REQUIRE(lines.size() == 3);
    CHECK(lines[0].kind == Line::Kind::HeldBack);
    CHECK(lines[1].kind == Line::Kind::Taken);
    CHECK(lines[1].file == "a.json");
    CHECK(lines[2].kind == Line::Kind::Taken);
    CHECK(lines[2].file == "c.json");
    CHECK(std::filesystem::exists(desk.in + "/taken/a.json"));
    CHECK(std::filesystem::exists(desk.in + "/b.json.part"));
}

TEST_CASE("while another program holds the store the watch waits, and then loses nothing") {
    const tests::OfficeDesk desk;
    desk.put("a.json", tests::sealed_sample(1).bytes);
    auto other = std::make_unique<office::OfficeStore>(desk.open());
    std::size_t troubles = 0;
    std::size_t taken = 0;
    office::WatchManner manner;
    manner.quiet_ms = 0;
    manner.look_ms = 10;
    manner.look_blind_ms = 10;
    manner.now = [] { return tests::kOfficeNow; };
    manner.trouble = [&](const model::Problem& problem) {
        CHECK(office::OfficeStore::is_held_by_another(problem));
        if (++troubles == 3) {
            other.reset();
        }
    };
    manner.taken = [&](const office::Intake& intake) { taken += intake.count(Line::Kind::Taken); };
    int looks = 0;
    manner.go_on = [&] { return ++looks < 500 && taken == 0; };
    REQUIRE(office::watch(desk.path, desk.in, manner).ok());
    CHECK(troubles >= 3);
    CHECK(taken == 1);
}

TEST_CASE("a folder that is not there cannot be watched") {
    const tests::OfficeDesk desk;
    office::WatchManner manner;
    manner.go_on = [] { return true; };
    const auto done = office::watch(desk.path, desk.in + "/nowhere", manner);
    REQUIRE_FALSE(done.ok());
    CHECK(done.problem().remedy == "name the folder that holds the bundles");
}
