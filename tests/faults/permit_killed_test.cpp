// The program is killed behind every entry of a visit with a permit: what the band says afterwards is what is
// recorded, never better, and no earth is forgotten.
#include "checklist/store/store.hpp"
#include "tests/faults/killed_child.hpp"
#include "tests/support/paper_visit.hpp"
#include "tests/support/temp_store.hpp"

#include <algorithm>
#include <iostream>
#include <random>

using namespace crossarm;

namespace {

/// A whole visit as it would be recorded: a stop, a resumption and an extension on the way.
tests::PaperVisit whole_visit() {
    using namespace model::permit;
    tests::PaperVisit visit;
    visit.open();
    visit.up_to_work();
    REQUIRE(visit.in_force());
    REQUIRE(visit.act(SignedOn{"A", "mate"}, "mate").empty());
    REQUIRE(visit.act(ToolsOut{"A", 14}, "doer").empty());
    REQUIRE(visit.act(Suspended{"", "Thunder"}, "mate").empty());
    REQUIRE(visit.act(Extended{"A", visit.in_hours(9.0)}, "issuer").empty());
    REQUIRE(visit.act(Resumed{"A"}, "issuer").empty());
    REQUIRE(visit.accept().empty());
    visit.work();
    REQUIRE(visit.act(SignedOff{"mate", ""}, "mate").empty());
    REQUIRE(visit.act(ToolsIn{"A", 14}, "doer").empty());
    visit.restore();
    REQUIRE(visit.state().finished.contains("restore"));
    return visit;
}

/// Records the first `most` entries of the script and waits for its end.
[[noreturn]] void record_and_tell(const std::string& path, const std::vector<model::Entry>& script,
                                  std::size_t most, int pipe) {
    auto store = store::Store::open(path);
    if (!store) {
        ::_exit(1);
    }
    const model::Id visit = store->new_visit(script.front().at);
    for (std::size_t i = 0; i < std::min(most, script.size()); ++i) {
        const model::Entry& one = script[i];
        if (!store->append(visit, {one.body}, one.at, one.by)) {
            ::_exit(2);
        }
        tests::tell(pipe, "kept\n");
    }
    for (;;) {
        ::pause();
    }
}

} // namespace

TEST_CASE("killed behind any entry of a permit, the band says what is recorded and no earth is forgotten") {
    const tests::PaperVisit visit = whole_visit();
    const auto rules = visit::permit::rules_from(visit.limits, visit.structure());
    std::mt19937 dice(26112026);
    std::size_t in_force = 0;
    std::size_t earthed = 0;
    std::size_t beyond = 0;
    for (std::size_t entries = 1; entries <= visit.entries.size(); ++entries) {
        INFO("killed after entry " << entries);
        const tests::TempFolder folder;
        const std::string path = folder.file("tablet.db");
        std::size_t told = 0;
        // One entry may be under way when it is killed; a slow machine must not let it run on to the end.
        tests::run_and_kill([&](int pipe) { record_and_tell(path, visit.entries, entries + 1, pipe); },
                            entries, std::chrono::microseconds(dice() % 1500),
                            [&](const std::string&) { ++told; });
        const auto store = store::Store::open(path);
        REQUIRE(store.ok());
        REQUIRE(store->visits().size() == 1);
        const auto kept = store->entries(store->visits().front().visit);
        REQUIRE(kept.ok());
        REQUIRE(kept->size() >= told);
        REQUIRE(kept->size() <= told + 1); // at most the one that was under way
        beyond += kept->size() - told;

        const std::vector<model::Entry> recorded(
            visit.entries.begin(), visit.entries.begin() + static_cast<std::ptrdiff_t>(kept->size()));
        const model::Timestamp now = recorded.back().at;
        const visit::permit::State true_state = visit::fold(recorded, rules).permit;
        const visit::Band band = visit::band(visit::fold(*kept, rules).permit, rules, now);
        CHECK(band == visit::band(true_state, rules, now));
        CHECK(band.earths_on == visit::permit::earths_on(true_state));
        in_force += band.in_force() ? 1U : 0U;
        earthed += band.earths_on > 0 ? 1U : 0U;
    }
    std::cout << "permit killed after each of " << visit.entries.size() << " entries: " << in_force
              << " times in force, " << earthed << " times with earths on, " << beyond
              << " entries there without having been confirmed\n";
    CHECK(in_force > 5);
    CHECK(earthed > 15);
}
