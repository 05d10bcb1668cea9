// What intake does with a file beyond taking it: steps, dates, retries, where files go, clocks, several in
// one.
#include "sync/office/intake.hpp"

#include "checklist/model/digest.hpp"
#include "sync/office/command.hpp"
#include "sync/office/dump.hpp"
#include "sync/office/held_back.hpp"
#include "sync/office/intake_text.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/office_desk.hpp"

#include <nlohmann/json.hpp>

#include <filesystem>

using namespace crossarm;
using office::ClockNote;
using office::Line;
using office::OfficeStore;
using tests::OfficeDesk;

namespace {

namespace fs = std::filesystem;

constexpr model::Timestamp kLater{tests::kOfficeNow.utc_ms + 86'400'000, 60};

/// A bundle of the sample visit, changed by `change` after it was read, and sealed again.
std::string changed(const std::function<void(nlohmann::json&)>& change) {
    auto body = nlohmann::json::parse(tests::sealed_sample(1).bytes)["body"];
    change(body);
    return tests::sealed_body(body);
}

} // namespace

TEST_CASE("each refusal names the step that it failed at") {
    struct Case {
        const char* step;
        std::string bytes;
    };
    const std::string good = tests::sealed_sample(1).bytes;
    const std::vector<Case> cases = {
        {"seal", ""},
        {"seal", good.substr(0, good.size() / 2)},
        {"key", tests::sealed(tests::sample_bundle(1, tests::sample_device(77))).bytes},
        {"body", changed([](auto& body) { body["format"] = "crossarm.bundle/9"; })},
        {"shape", changed([](auto& body) { body["life"] = 0; })},
        {"shape", changed([](auto& body) { body["surprise"] = 1; })},
        {"entries", changed([](auto& body) { body["entries"][1]["seq"] = 7; })},
        {"entries", changed([](auto& body) { body["entries"][2]["data"] = nlohmann::json::object(); })},
    };
    const OfficeDesk desk;
    OfficeStore store = desk.open();
    for (const Case& one : cases) {
        desk.empty();
        desk.put("a.json", one.bytes);
        const auto intake = desk.take_in(store);
        REQUIRE(intake.lines.size() == 1);
        INFO(office::intake_text(intake));
        CHECK(intake.lines[0].kind == Line::Kind::HeldBack);
        CHECK(intake.lines[0].step == one.step);
    }
    desk.empty();
    fs::create_directory(desk.in + "/a.json");
    CHECK(desk.take_in(store).lines[0].step == "file");
}

TEST_CASE("what is held back keeps the date of its first time, and leaves when it can be taken") {
    const OfficeDesk desk;
    OfficeStore store = desk.open();
    const std::string cut = tests::sealed_sample(1).bytes.substr(0, 700);
    desk.put("a.json", cut);
    (void)desk.take_in(store);
    const auto later = office::take_in_again(store, kLater);
    REQUIRE(later.ok());
    REQUIRE(later->lines.size() == 1);
    CHECK(later->lines[0].kind == Line::Kind::HeldBack);
    CHECK(later->lines[0].file == "a.json");
    const office::HeldBack held(store.path());
    const auto list = held.list();
    REQUIRE(list.ok());
    REQUIRE(list->size() == 1);
    REQUIRE((*list)[0].reason.has_value());
    CHECK((*list)[0].reason->held_at == tests::kOfficeNow);
    CHECK((*list)[0].reason->tried_at == kLater);
    CHECK(tests::read_file((*list)[0].copy) == cut);

    // A whole bundle that was held back for a reason that is gone.
    const auto sealed = tests::sealed_sample(2);
    REQUIRE(held.keep(sealed.bytes, {"b.json", "seal", {"b.json", "x", "y"}, kLater, kLater}).ok());
    const auto again = office::take_in_again(store, kLater);
    REQUIRE(again.ok());
    CHECK(again->count(Line::Kind::Taken) == 1);
    CHECK(again->count(Line::Kind::HeldBack) == 1);
    CHECK(held.list()->size() == 1);
    CHECK(*store.raw(sealed.digest) == sealed.bytes);
}

TEST_CASE("a bundle of a tablet that is not enrolled waits, and is taken after the enrolment") {
    const OfficeDesk desk;
    OfficeStore store = desk.open();
    const std::string stranger = tests::sample_device(77);
    const auto sealed = tests::sealed(tests::sample_bundle(1, stranger));
    desk.put("a.json", sealed.bytes);
    CHECK(desk.take_in(store).lines[0].step == "key");
    CHECK(office::take_in_again(store, kLater)->count(Line::Kind::HeldBack) == 1);
    tests::pin(store, stranger);
    CHECK(office::take_in_again(store, kLater)->count(Line::Kind::Taken) == 1);
    CHECK(office::HeldBack(desk.path).list()->empty());
    CHECK(*store.raw(sealed.digest) == sealed.bytes);
}

TEST_CASE("a program that ended between copy, reason, commit, release and move only repeats its work") {
    const OfficeDesk desk;
    const auto sealed = tests::sealed_sample(1);
    const std::string stem = desk.path + ".held-back/" + model::sha256_hex(sealed.bytes);
    fs::create_directory(desk.path + ".held-back");
    tests::write_file(stem + ".json", sealed.bytes); // the copy, without its reason
    tests::write_file(stem + ".json.part", "half");
    desk.put("a.json", sealed.bytes);
    OfficeStore store = desk.open();
    CHECK(office::HeldBack(desk.path).list()->size() == 1);
    CHECK_FALSE((*office::HeldBack(desk.path).list())[0].reason.has_value());
    CHECK(office::take_in_again(store, kLater)->count(Line::Kind::Taken) == 1);
    // Committed, but neither released nor moved.
    tests::write_file(stem + ".json", sealed.bytes);
    CHECK(office::take_in_again(store, kLater)->count(Line::Kind::AlreadyHere) == 1);
    CHECK(office::HeldBack(desk.path).list()->empty());
    CHECK(desk.take_in(store, /*move=*/true).count(Line::Kind::AlreadyHere) == 1);
    CHECK(fs::exists(desk.in + "/taken/a.json"));
}

TEST_CASE("files that were taken move aside, files that were held back stay, hidden and half ones are left") {
    const OfficeDesk desk;
    const std::string good = tests::sealed_sample(1).bytes;
    const std::string other = tests::sealed_sample(2).bytes;
    desk.put("a.json", good);
    desk.put("b.json", good.substr(0, 300));
    desk.put(".c.json", good);
    desk.put("d.json.part", good);
    OfficeStore store = desk.open();
    const auto intake = desk.take_in(store, /*move=*/true);
    CHECK(intake.lines.size() == 2);
    CHECK_FALSE(fs::exists(desk.in + "/a.json"));
    CHECK(tests::read_file(desk.in + "/taken/a.json") == good);
    CHECK(fs::exists(desk.in + "/b.json"));
    CHECK(fs::exists(desk.in + "/.c.json"));
    CHECK(fs::exists(desk.in + "/d.json.part"));
    // Another file of the same name overwrites nothing.
    desk.put("a.json", other);
    (void)desk.take_in(store, /*move=*/true);
    CHECK(tests::read_file(desk.in + "/taken/a.json") == good);
    CHECK(tests::read_file(desk.in + "/taken/" + model::sha256_hex(other).substr(0, 16) + "-a.json") ==
          other);
}

TEST_CASE("one file with several bundles is taken line by line, and stays while one of them is held back") {
    const OfficeDesk desk;
    std::string lines;
    for (unsigned i = 1; i <= 5; ++i) {
        lines += tests::sealed_sample(i).bytes + "\n";
    }
    const std::string cut = tests::sealed_sample(6).bytes.substr(0, 100);
    desk.put("round.jsonl", lines + cut);
    OfficeStore store = desk.open();
    const auto intake = desk.take_in(store, /*move=*/true);
    CHECK(intake.count(Line::Kind::Taken) == 5);
    REQUIRE(intake.lines.size() == 6);
    CHECK(intake.lines[5].file == "round.jsonl:6");
    CHECK(tests::read_file(intake.lines[5].copy) == cut);
    CHECK(fs::exists(desk.in + "/round.jsonl"));
    desk.put("round.jsonl", lines);
    CHECK(desk.take_in(store, /*move=*/true).count(Line::Kind::AlreadyHere) == 5);
    CHECK(fs::exists(desk.in + "/taken/round.jsonl"));
}

TEST_CASE("a tablet's clock that cannot be right is told by name, and the bundle is taken all the same") {
    const model::Id visit = tests::sample_id(1);
    const auto entry = [&](const char* device, std::int64_t seq, std::int64_t minutes_from_now) {
        model::Entry made;
        made.visit = visit;
        made.device = device;
        made.seq = seq;
        made.at = {tests::kOfficeNow.utc_ms + minutes_from_now * 60'000, 330};
        return made;
    };
    constexpr std::int64_t kDay = 24 * 60;
    struct Case {
        std::vector<model::Entry> entries;
        std::vector<ClockNote> notes;
    };
    const auto at = [&](std::int64_t minutes) { return entry("a", 1, minutes).at; };
    const std::vector<Case> cases = {
        {{entry("a", 1, -30), entry("a", 2, 10)}, {}},
        {{entry("a", 1, -30), entry("a", 2, 11)}, {{ClockNote::Kind::Future, "a", 2, at(11), 11}}},
        {{entry("a", 1, 20), entry("a", 2, 90)}, {{ClockNote::Kind::Future, "a", 2, at(90), 90}}},
        {{entry("a", 1, -60), entry("a", 2, -70)}, {}},
        {{entry("a", 1, -60), entry("a", 2, -180)}, {{ClockNote::Kind::Back, "a", 2, at(-180), 120}}},
        // Another tablet's clock is another matter.
        {{entry("a", 1, -60), entry("b", 1, -180)}, {}},
        {{entry("a", 1, -400 * kDay), entry("a", 2, -370 * kDay)},
         {{ClockNote::Kind::LongAgo, "a", 2, at(-370 * kDay), 370 * kDay}}},
        {{entry("a", 1, -400 * kDay), entry("a", 2, -1)}, {}},
    };
    for (const Case& one : cases) {
        CHECK(office::check_clocks(one.entries, tests::kOfficeNow) == one.notes);
    }

    const OfficeDesk desk;
    desk.put("a.json", tests::sealed_sample(1).bytes);
    OfficeStore store = desk.open();
    const auto intake =
        office::take_in(store, desk.in, {tests::kOfficeNow.utc_ms - 200LL * kDay * 60'000, 0});
    REQUIRE(intake.ok());
    CHECK(intake->count(Line::Kind::Taken) == 1);
    REQUIRE(intake->lines[0].clocks.size() == 1);
    CHECK(office::intake_text(*intake).find("    clock: entry ") != std::string::npos);
    CHECK(office::intake_text(*intake).find(" after the office's clock") != std::string::npos);
    CHECK(nlohmann::json::parse(office::intake_json(*intake))["files"][0]["clocks"][0]["kind"] == "future");
}

TEST_CASE("a store from which commits vanished says so, and is not written to") {
    const OfficeDesk desk;
    const auto first = tests::sealed_sample(1);
    desk.put("a.json", first.bytes);
    std::string before;
    {
        OfficeStore store = desk.open();
        (void)desk.take_in(store);
    }
    before = tests::read_file(desk.path);
    desk.put("b.json", tests::sealed_sample(2).bytes);
    {
        OfficeStore store = desk.open();
        (void)desk.take_in(store);
    }
    tests::write_file(desk.path, before); // an older copy, beside the head file of the newer one
    const auto store = OfficeStore::open(desk.path, OfficeStore::Make::Yes);
    REQUIRE_FALSE(store.ok());
    CHECK(store.problem().what.starts_with("bundles are missing: its head file knows of bundle "));
    CHECK(tests::read_file(desk.path) == before);
    fs::remove(desk.path + ".head");
    CHECK(OfficeStore::open(desk.path, OfficeStore::Make::No).ok());
}

TEST_CASE("intake moves, retries, lists and waits as it is told on the command line") {
    const OfficeDesk desk;
    const auto run = [](const std::vector<std::string>& words) {
        return office::run_command(words, tests::kOfficeNow);
    };
    (void)desk.open();
    desk.put("a.json", tests::sealed_sample(1).bytes);
    desk.put("b.json", "{}");
    CHECK(run({"intake", desk.in, "--store", desk.path, "--leave"}).code == 1);
    CHECK(fs::exists(desk.in + "/a.json"));
    CHECK(run({"intake", desk.in, "--store", desk.path}).code == 1);
    CHECK_FALSE(fs::exists(desk.in + "/a.json"));
    const auto held = run({"held", "--store", desk.path});
    CHECK(held.out.starts_with("b.json, since "));
    CHECK(held.out.ends_with("1 held back\n"));
    CHECK(nlohmann::json::parse(run({"held", "--store", desk.path, "--json"}).out)[0]["step"] == "seal");
    const auto again = run({"intake", "--again", "--store", desk.path});
    CHECK(again.code == 1);
    CHECK(again.out.find("0 taken, 0 already here, 1 held back") != std::string::npos);
    CHECK(run({"intake", "--again", desk.in, "--store", desk.path}).code == 2);
    CHECK(run({"intake", desk.in, "--store", desk.path, "--wait", "x"}).code == 2);
    // Another program holds the store: waited for, as long as it is wanted.
    auto other = std::make_unique<OfficeStore>(desk.open());
    int asked = 0;
    std::string said;
    const auto print = [&said](const std::string& text) { said += text; };
    const auto ending = office::run_command({"intake", desk.in, "--store", desk.path, "--wait", "60"},
                                            {[] { return tests::kOfficeNow; }, print, print,
                                             [&] {
                                                 if (++asked == 2) {
                                                     other.reset();
                                                 }
                                                 return true;
                                             }});
    CHECK(ending.code == 1);
    CHECK(asked >= 2);
}
