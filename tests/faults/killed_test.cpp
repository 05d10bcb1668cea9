// The program is killed at a random moment of a visit: every entry whose keeping was told is there.
#include "checklist/visit/state.hpp"
#include "tests/faults/confirmed.hpp"
#include "tests/support/catch.hpp"

#include <array>
#include <chrono>
#include <cstdio>
#include <iostream>

#include <csignal>
#include <sys/wait.h>
#include <unistd.h>

using namespace crossarm;
using tests::Confirmed;

namespace {

constexpr int kKills = 200;
constexpr int kKillsOfOneStore = 10;

void tell(int pipe, const std::string& line) {
    if (::write(pipe, line.data(), line.size()) != static_cast<ssize_t>(line.size())) {
        ::_exit(3);
    }
}

/// The child: works and tells each entry and bundle after the store has confirmed it, until it is killed.
[[noreturn]] void work_and_tell(const std::string& path, std::uint32_t seed, int pipe) {
    auto store = store::Store::open(path, tests::seeded_random(seed));
    if (!store) {
        tell(pipe, "problem " + model::to_text(store.problem()) + '\n');
        ::_exit(1);
    }
    const auto done = tests::work(
        *store, 1'000'000, 22,
        [&](const std::vector<store::Kept>& kept) {
            for (const store::Kept& one : kept) {
                tell(pipe, "entry " + model::to_text(one.entry.visit) + ' ' + one.hash + '\n');
            }
        },
        [&](const std::string& digest) { tell(pipe, "bundle " + digest + '\n'); });
    tell(pipe, "problem " + model::to_text(done.problem()) + '\n');
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

/// Runs the child, kills it after `lines` lines and some microseconds, takes everything it told.
void run_and_kill(const std::string& path, std::uint32_t seed, std::size_t lines,
                  std::chrono::microseconds more, Confirmed& confirmed) {
    std::array<int, 2> ends{};
    REQUIRE(::pipe(ends.data()) == 0);
    std::cout.flush();
    // No connection is open in this process at this moment: SQLite's are not carried over a fork.
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        ::close(ends[0]);
        work_and_tell(path, seed, ends[1]);
    }
    ::close(ends[1]);
    std::string rest;
    std::size_t taken = 0;
    const auto take_more = [&] {
        std::array<char, 4096> buffer{};
        const ssize_t size = ::read(ends[0], buffer.data(), buffer.size());
        if (size <= 0) {
            return false;
        }
        rest.append(buffer.data(), static_cast<std::size_t>(size));
        for (std::size_t end = rest.find('\n'); end != std::string::npos; end = rest.find('\n')) {
            take(rest.substr(0, end), confirmed);
            rest.erase(0, end + 1);
            ++taken;
        }
        return true;
    };
    while (taken < lines && take_more()) {
    }
    const auto until = std::chrono::steady_clock::now() + more;
    while (std::chrono::steady_clock::now() < until) {
    }
    ::kill(child, SIGKILL);
    while (take_more()) {
    }
    ::close(ends[0]);
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    REQUIRE(WIFSIGNALED(status));
    REQUIRE(WTERMSIG(status) == SIGKILL);
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
            run_and_kill(path, static_cast<std::uint32_t>(dice()), lines, more, confirmed);
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
