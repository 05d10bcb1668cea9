#include "sync/office/command.hpp"

#include "sync/bundle/assets.hpp"
#include "sync/bundle/bundle.hpp"
#include "sync/office/office_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/office_desk.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/temp_store.hpp"

#include <nlohmann/json.hpp>

#include <filesystem>

using namespace crossarm;
using office::run_command;

namespace {

constexpr model::Timestamp kNow{1'773'500'000'000, 60};

office::Ending run(const std::vector<std::string>& words) {
    return run_command(words, kNow);
}

const std::string kRegister = std::string(CROSSARM_TEST_DATA) + "/accept/register/two_structures.csv";

struct Desk {
    tests::TempFolder folder;
    std::string in = folder.file("in");
    std::string store = folder.file("office.store");
    Desk() {
        std::filesystem::create_directory(in);
        const auto office = office::OfficeStore::open(store, office::OfficeStore::Make::Yes);
        tests::pin(*office, tests::sample_device(1));
    }
    [[nodiscard]] std::string bundle(const std::string& name, const bundle::Bundle& bundle) const {
        tests::write_file(in + "/" + name, tests::sealed(bundle).bytes);
        return in + "/" + name;
    }
};

} // namespace

TEST_CASE("a day pack is made from a register, and found whole") {
    const tests::TempFolder folder;
    const std::string out = folder.file("pack.json");
    const auto packed =
        run({"pack", "--register", kRegister, "--number", "12", "--office", "Tollgate depot", "--at",
             "2026-03-14T06:00:00+05:30", "--out", out, "--store", folder.file("office.store")});
    CHECK(packed.err.empty());
    CHECK(packed.code == 0);
    CHECK(packed.out == out + ": day pack 12, 2 structures, 0 people, 0 due visits, 0 earlier readings\n");
    const auto verified = run({"verify", out, "--store", folder.file("office.store")});
    CHECK(verified.code == 0);
    CHECK(verified.out == out + ": whole; day pack 12 of Tollgate depot\n");
}

TEST_CASE("a register with something wrong in it makes no day pack") {
    const tests::TempFolder folder;
    const std::string out = folder.file("pack.json");
    const auto packed =
        run({"pack", "--register", std::string(CROSSARM_TEST_DATA) + "/refuse/register/rating_wrong.csv",
             "--number", "1", "--office", "x", "--at", "2026-03-14T06:00:00Z", "--out", out, "--store",
             folder.file("office.store")});
    CHECK(packed.code == 1);
    CHECK(packed.out.empty());
    CHECK(packed.err ==
          "rating_wrong.csv:2: rating_kVA: \"1O0\" is not a number; write the rating in kVA, for example "
          "100\n1 problem; nothing was written\n");
    CHECK_FALSE(std::filesystem::exists(out));
}

TEST_CASE("words on the command line that make no sense end with 2 and the help's name") {
    struct Case {
        std::vector<std::string> words;
        std::string err;
    };
    const std::vector<Case> cases = {
        {{"pak"}, "pak: is not a command; see crossarm-office --help\n"},
        {{"intake", "x"}, "--store: is missing; see crossarm-office --help\n"},
        {{"intake", "--store", "s"}, "intake: name one folder; see crossarm-office --help\n"},
        {{"dump", "--stor", "s"},
         "--stor: is not known here; nearest is --store; see crossarm-office --help\n"},
        {{"dump", "--store"}, "--store: nothing stands behind it; see crossarm-office --help\n"},
        {{"dump", "--store", "s", "--store", "s"}, "--store: is given twice; give it once\n"},
        {{"verify"}, "verify: name at least one file; see crossarm-office --help\n"},
        {{"pack", "--register", "r", "--office", "o", "--at", "now", "--out", "p", "--number", "0", "--store",
          "s"},
         "--number: \"0\" is not a number from 1 to 999999999; count the day packs from 1\n"},
    };
    for (const Case& one : cases) {
        const auto ending = run(one.words);
        CHECK(ending.code == 2);
        CHECK(ending.err == one.err);
    }
    CHECK(run({"--help"}).code == 0);
}

TEST_CASE("intake ends with 0 when all was taken, with 1 when something was held back, and says which") {
    const Desk desk;
    const bundle::Bundle bundle = tests::sample_bundle(1);
    const std::string file = desk.bundle("a.json", bundle);
    const auto first = run({"intake", desk.in, "--store", desk.store, "--leave"});
    CHECK(first.code == 0);
    CHECK(first.out == "taken  a.json: QM-0101, visit " + model::to_text(bundle.visit) +
                           ", bundle 1 of tablet " + bundle.device +
                           "\n1 taken, 0 already here, 0 held back, 0 gaps, 0 forks\n");
    tests::write_file(desk.in + "/b.json", tests::read_file(file).substr(0, 500));
    const auto second = run({"intake", desk.in, "--store", desk.store, "--json"});
    CHECK(second.code == 1);
    const auto json = nlohmann::json::parse(second.out);
    CHECK(json["taken"] == 0);
    CHECK(json["alreadyHere"] == 1);
    CHECK(json["heldBack"] == 1);
    CHECK(json["files"][1]["where"] == "b.json: byte 500");
    CHECK(run({"verify", file, desk.in + "/b.json"}).code == 1);
}

TEST_CASE("a second intake on a store that is held says so and ends with 2") {
    const Desk desk;
    const auto held = office::OfficeStore::open(desk.store, office::OfficeStore::Make::Yes);
    REQUIRE(held.ok());
    const auto ending = run({"intake", desk.in, "--store", desk.store});
    CHECK(ending.code == 2);
    CHECK(ending.err.find("another program holds the office store") != std::string::npos);
}

TEST_CASE("show prints findings, verdicts with workings, decisions and what is not seen") {
    const Desk desk;
    const bundle::Bundle bundle = tests::sample_bundle(1);
    (void)desk.bundle("a.json", bundle);
    REQUIRE(run({"intake", desk.in, "--store", desk.store}).code == 0);
    const auto shown = run({"show", "--store", desk.store, model::to_text(bundle.visit)});
    INFO(shown.out << shown.err);
    CHECK(shown.code == 0);
    for (const char* expected :
         {"QM-0101 Weir Cottages, feeder Osier Lane", "Signed", "“Seen”", "Danger",
          "Out of reach: wasps' nest", "Not fitted", "Repair", "28.5\u00A0kV", "(28 + 29) / 2",
          "Decided by A sample set, Table 1 (common practice)",
          "supply stays off, by P-003: “Shed broken off”",
          "Unseen: ", "Treat as live until proved dead and earthed.", "another edition of this protocol"}) {
        INFO(expected);
        CHECK(shown.out.find(expected) != std::string::npos);
    }
    const auto json = run({"show", "--store", desk.store, "--all", "--json"});
    CHECK(json.code == 0);
    const auto parsed = nlohmann::json::parse(json.out);
    CHECK(parsed["visit"] == model::to_text(bundle.visit));
    CHECK(parsed["findings"].size() >= 7);
    CHECK(parsed["verdicts"].size() == 2);
    CHECK(run({"show", "--store", desk.store, model::to_text(tests::sample_id(5))}).code == 2);
}
