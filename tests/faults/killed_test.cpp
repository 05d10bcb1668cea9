// The program is killed at a random moment of a visit: every entry whose keeping was told is there.
#include "checklist/visit/state.hpp"
#include "tests/faults/confirmed.hpp"
#include "tests/faults/killed_child.hpp"
#include "tests/support/catch.hpp"

#include <chrono>
#include <iostream>

using namespace crossarm;
using tests::Confirmed;

namespace {

constexpr int kKills = 200;
constexpr int kKillsOfOneStore = 10;

/// The child: works and tells each entry and bundle after the store has confirmed it, until it is killed.
[[noreturn]] void work_and_tell(const std::string& path, std::uint32_t seed, int pipe) {
    auto store = store::Store::open(path, tests::seeded_random(seed));
    if (!store) {
        tests::tell(pipe, "problem " + model::to_text(store.problem()) + '\n');
        ::_exit(1);
    }
    const auto done = tests::work(
        *store, 1'000'000, 22,
        [&](const std::vector<store::Kept>& kept) {
            for (const store::Kept& one : kept) {
                tests::tell(pipe, "entry " + model::to_text(one.entry.visit) + ' ' + one.hash + '\n');
            }
        },
        [&](const std::string& digest) { tests::tell(pipe, "bundle " + digest + '\n'); });
    tests::tell(pipe, "problem " + model::to_text(done.problem()) + '\n');
    ::_exit(2);
}

/// Takes one whole line that the child told.
void take(const std::string& line, Confirmed& confirmed) {
    INFO(line);
    if (line.rfind("entry ", 0) == 0) {
        const auto visit = model::parse_id(line.substr(6, 36), "child");
        REQUIRE(visit.ok());
        confirmed.entries[*visit].push_back(line.substr(43));
        ++confirmed.count;
    } else {
        REQUIRE(line.rfind("bundle ", 0) == 0);
        confirmed.bundles.push_back(line.substr(7));
    }
}

/// Every visit in the store folds into a state that has all its entries.
void check_folds(const store::Store& store) {
    for (const store::VisitRow& row : store.visits()) {
        const auto entries = store.entries(row.visit);
        REQUIRE(entries.ok());
        const visit::State state = visit::fold(*entries);
        REQUIRE(state.entries == static_cast<std::size_t>(row.entries));
        REQUIRE(state.structure == row.structure);
        REQUIRE(state.signature.has_value() == row.is_signed);
    }
}

} // namespace

TEST_CASE("after 200 kills at random moments of a visit every confirmed entry and bundle is there and every "
          "visit folds") {
    std::size_t confirmed_entries = 0;
    std::size_t unconfirmed = 0;
    std::mt19937 dice(14032026);
    for (int kill = 0; kill < kKills; kill += kKillsOfOneStore) {
        const tests::TempFolder folder;
        const std::string path = folder.file("tablet.store");
        Confirmed confirmed;
        std::size_t before = 0;
        for (int i = 0; i < kKillsOfOneStore; ++i) {
            INFO("kill " << kill + i);
            // Every fifth one early, while the store is still being made or mended.
            const std::size_t lines = i % 5 == 0 ? 0 : 1 + dice() % 60;
            const std::chrono::microseconds more(dice() % (i % 5 == 0 ? 12'000 : 1'500));
            const std::size_t told_before = confirmed.count;
            const auto seed = static_cast<std::uint32_t>(dice());
            tests::run_and_kill([&](int pipe) { work_and_tell(path, seed, pipe); }, lines, more,
                                [&](const std::string& line) { take(line, confirmed); });
            {
                const auto store = store::Store::open(path, tests::seeded_random(77));
                REQUIRE((store.ok() ? "" : model::to_text(store.problem())) == "");
                REQUIRE(tests::lost(*store, confirmed) == 0);
                check_folds(*store);
                // At most the intent that was under way is there besides.
                const std::size_t all = tests::size_of(*store);
                REQUIRE(all <= before + (confirmed.count - told_before) + 2);
                unconfirmed += all - before - (confirmed.count - told_before);
                before = all;
                REQUIRE(store->outbox().size() >= confirmed.bundles.size());
                // A bundle that was under way counts from now on.
                confirmed.bundles.clear();
                for (const store::OutboxRow& row : store->outbox()) {
                    confirmed.bundles.push_back(row.digest);
                }
            }
            REQUIRE(tests::integrity_of(path) == "ok");
        }
        confirmed_entries += confirmed.count;
    }
    std::cout << "kills: " << kKills << ", entries confirmed: " << confirmed_entries
              << ", lost: 0, there without having been confirmed: " << unconfirmed << '\n';
    CHECK(confirmed_entries > 2'000);
}
