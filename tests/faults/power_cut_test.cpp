// The power goes off at a random moment: what was confirmed is there afterwards.
#include "checklist/store/head_file.hpp"
#include "checklist/store/journal.hpp"
#include "checklist/store/settings.hpp"

#include "tests/faults/confirmed.hpp"
#include "tests/faults/faulty_disk.hpp"
#include "tests/support/catch.hpp"

#include <iostream>

using namespace crossarm;
using tests::Confirmed;
using tests::kMorning;

namespace {

constexpr int kCuts = 200;

/// A head file after a power cut: any version that it ever had, a torn one, or none.
void cut_head_file(const std::string& path, const std::vector<std::string>& versions, std::mt19937& dice) {
    const std::size_t which = dice() % 4;
    const std::string& version = versions[dice() % versions.size()];
    tests::write_file(path, which == 0   ? ""
                            : which == 1 ? version.substr(0, dice() % (version.size() + 1))
                                         : version);
}

/// Opens the store and works until the power goes off at a random operation.
void work_until_cut(tests::FaultyDisk& disk, const std::string& path, std::mt19937& dice,
                    std::uint32_t operations, Confirmed& confirmed) {
    std::vector<std::string> heads = {tests::read_file(path + ".head")};
    disk.cut_power_at(1 + dice() % operations);
    {
        auto store = store::Store::open(path, tests::seeded_random(static_cast<std::uint32_t>(dice())));
        if (store) {
            const auto ended = tests::work(
                *store, 1000, 22,
                [&](const std::vector<store::Kept>& kept) {
                    confirmed.add(kept);
                    heads.push_back(tests::read_file(path + ".head"));
                },
                [&](const std::string& digest) {
                    confirmed.bundles.push_back(digest);
                    heads.push_back(tests::read_file(path + ".head"));
                });
            REQUIRE(!ended.ok());
        }
    }
    REQUIRE(disk.has_failed());
    disk.power_comes_back(dice, /*torn=*/dice() % 2 == 0);
    cut_head_file(path + ".head", heads, dice);
}

} // namespace

TEST_CASE("after 200 power cuts every confirmed entry and bundle is there") {
    tests::FaultyDisk disk;
    const std::string empty = tests::empty_store();
    std::size_t confirmed_entries = 0;
    std::size_t unconfirmed = 0;
    for (std::uint32_t seed = 0; seed < kCuts; ++seed) {
        INFO("seed " << seed);
        std::mt19937 dice(seed);
        tests::TempFolder folder;
        const std::string path = folder.file("tablet.store");
        tests::write_file(path, empty);
        Confirmed confirmed;
        work_until_cut(disk, path, dice, 500, confirmed);
        {
            const auto store = store::Store::open(path, tests::seeded_random(seed));
            REQUIRE((store.ok() ? "" : model::to_text(store.problem())) == "");
            REQUIRE(tests::lost(*store, confirmed) == 0);
            confirmed_entries += confirmed.count;
            unconfirmed += tests::size_of(*store) - confirmed.count;
        }
        REQUIRE(tests::integrity_of(path) == "ok");
    }
    std::cout << "power cuts: " << kCuts << ", entries confirmed: " << confirmed_entries
              << ", lost: 0, there without having been confirmed: " << unconfirmed << '\n';
    CHECK(confirmed_entries > 3'000);
}

TEST_CASE("the power goes off again while a cut is being mended, several times over") {
    tests::FaultyDisk disk;
    const std::string empty = tests::empty_store();
    for (std::uint32_t seed = 0; seed < 25; ++seed) {
        INFO("seed " << seed);
        std::mt19937 dice(seed);
        tests::TempFolder folder;
        const std::string path = folder.file("tablet.store");
        tests::write_file(path, empty);
        Confirmed confirmed;
        for (int cut = 0; cut < 6; ++cut) {
            work_until_cut(disk, path, dice, cut % 2 == 0 ? 300 : 40, confirmed);
        }
        {
            const auto store = store::Store::open(path, tests::seeded_random(seed));
            REQUIRE((store.ok() ? "" : model::to_text(store.problem())) == "");
            REQUIRE(tests::lost(*store, confirmed) == 0);
        }
        REQUIRE(tests::integrity_of(path) == "ok");
    }
}

TEST_CASE("the power goes off while a store is being made: it is there whole or not at all") {
    tests::FaultyDisk disk;
    int whole = 0;
    int absent = 0;
    std::int64_t operations = 0; // that making a store takes when nothing happens to it
    {
        const tests::TempFolder folder;
        const std::int64_t before = disk.operations();
        REQUIRE(store::Store::open(folder.file("tablet.store"), tests::seeded_random(0)).ok());
        operations = disk.operations() - before;
        disk.forget("");
    }
    for (std::uint32_t seed = 0; seed < 100; ++seed) {
        INFO("seed " << seed);
        std::mt19937 dice(seed);
        tests::TempFolder folder;
        const std::string path = folder.file("tablet.store");
        disk.cut_power_at(1 + seed * operations * 5 / 400); // from the first one to a quarter beyond the last
        {
            const auto store = store::Store::open(path, tests::seeded_random(seed));
        }
        disk.power_comes_back(dice, /*torn=*/seed % 2 == 0);
        (std::filesystem::exists(path) ? whole : absent) += 1;
        auto store = store::Store::open(path, tests::seeded_random(seed));
        REQUIRE((store.ok() ? "" : model::to_text(store.problem())) == "");
        Confirmed confirmed;
        REQUIRE(tests::work(*store, 1, confirmed).ok());
    }
    CHECK(whole > 10);
    CHECK(absent > 10);
}

// The same journal without a sync after each commit. It must lose entries, or the tests above prove nothing.
TEST_CASE("without a sync at each commit confirmed entries are lost, and this test notices") {
    tests::FaultyDisk disk;
    const std::string empty = tests::empty_store();
    int cuts_with_loss = 0;
    std::size_t all_lost = 0;
    std::size_t all_confirmed = 0;
    for (std::uint32_t seed = 0; seed < kCuts; ++seed) {
        INFO("seed " << seed);
        std::mt19937 dice(seed);
        tests::TempFolder folder;
        const std::string path = folder.file("tablet.store");
        tests::write_file(path, empty);
        Confirmed confirmed;
        {
            store::Database database(path, store::Database::Make::No);
            store::apply_settings(database);
            database.run("PRAGMA synchronous=NORMAL");
            store::Pen pen{database.text("SELECT device FROM tablet"), tests::seeded_random(seed), {}};
            const model::Id visit = store::make_id(pen.ids, pen.random, kMorning);
            disk.cut_power_at(20 + dice() % 250);
            try {
                for (;;) {
                    const auto kept = store::append_entries(database, pen, visit,
                                                            {tests::found("tank.leak", model::Grade::Watch)},
                                                            kMorning, "P-014");
                    confirmed.add(*kept);
                }
            } catch (const store::DiskFault&) {
                database.leave_log_on_close(true);
            }
        }
        disk.power_comes_back(dice, /*torn=*/seed % 2 == 0);
        {
            const auto store = store::Store::open(path, tests::seeded_random(seed));
            REQUIRE((store.ok() ? "" : model::to_text(store.problem())) == "");
            const std::size_t missing = tests::lost(*store, confirmed);
            cuts_with_loss += missing > 0 ? 1 : 0;
            all_lost += missing;
            all_confirmed += confirmed.count;
        }
        REQUIRE(tests::integrity_of(path) == "ok");
    }
    std::cout << "power cuts without sync: " << kCuts << ", entries confirmed: " << all_confirmed
              << ", lost: " << all_lost << " in " << cuts_with_loss << " cuts\n";
    CHECK(cuts_with_loss > kCuts / 2);
}
