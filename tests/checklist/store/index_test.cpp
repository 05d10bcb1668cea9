#include "checklist/store/store.hpp"

#include "checklist/store/database.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/small_visit.hpp"
#include "tests/support/temp_store.hpp"

using namespace crossarm;
using tests::kMorning;

namespace {

/// Every column of the index as text.
std::string dump_index(const std::string& path) {
    store::Database database(path, store::Database::Make::No);
    std::string all;
    store::Statement rows(database, "SELECT hex(visit), first, last, structure, opened_ms, opened_offset, "
                                    "last_ms, last_offset, entries, is_signed FROM visit_index "
                                    "ORDER BY visit");
    while (rows.step()) {
        for (int column = 0; column < 10; ++column) {
            all += rows.text(column) + '|';
        }
        all += '\n';
    }
    return all;
}

model::Timestamp later(int minutes, std::int16_t offset = 330) {
    return {kMorning.utc_ms + minutes * 60'000LL, offset};
}

} // namespace

TEST_CASE("the index says of each visit where, since when, how many entries, and whether it is signed") {
    tests::TempStore t;
    const model::Id first = t.store.new_visit(kMorning);
    const model::Id second = t.store.new_visit(kMorning);
    REQUIRE(t.store.append(first, {tests::opened("QM-0107")}, kMorning, "P-014").ok());
    REQUIRE(t.store.append(second, {tests::opened("QM-0112")}, later(5), "P-014").ok());
    REQUIRE(
        t.store.append(first, {tests::found("tank.leak", model::Grade::Watch)}, later(9, 345), "P-014").ok());
    REQUIRE(t.store.append(first, {tests::signed_off(t.store.head(first))}, later(40), "P-002").ok());

    const auto rows = t.store.visits();
    REQUIRE(rows.size() == 2);
    CHECK(rows[0].visit == first);
    CHECK(rows[0].structure == "QM-0107");
    CHECK(rows[0].opened_at == kMorning);
    CHECK(rows[0].last_at == later(40));
    CHECK(rows[0].entries == 3);
    CHECK(rows[0].is_signed);
    CHECK(rows[1].visit == second);
    CHECK(rows[1].structure == "QM-0112");
    CHECK(rows[1].opened_at == later(5));
    CHECK(rows[1].last_at == later(5));
    CHECK(rows[1].entries == 1);
    CHECK(!rows[1].is_signed);
}

TEST_CASE("the index made anew is the same as the one that grew") {
    tests::TempStore t;
    std::mt19937 dice(20260314);
    std::vector<model::Id> visits;
    for (int step = 0; step < 200; ++step) {
        if (visits.empty() || dice() % 10 == 0) {
            visits.push_back(t.store.new_visit(later(step)));
            // Also a visit whose first entry does not say where it is.
            const model::Body body = dice() % 5 == 0
                                         ? tests::found("tank.leak", model::Grade::Sound)
                                         : tests::opened("QM-0" + std::to_string(100 + visits.size()));
            REQUIRE(t.store.append(visits.back(), {body}, later(step), "P-014").ok());
            continue;
        }
        const model::Id visit = visits[dice() % visits.size()];
        std::vector<model::Body> bodies(1 + dice() % 3, tests::found("tank.rust", model::Grade::Repair));
        if (dice() % 12 == 0) {
            bodies.push_back(tests::signed_off(t.store.head(visit)));
        }
        if (dice() % 25 == 0) {
            bodies.push_back(tests::opened("QM-0199"));
        }
        REQUIRE(t.store.append(visit, bodies, later(step), "P-014").ok());
    }
    {
        const store::Store closing = std::move(t.store);
    }
    const std::string grown = dump_index(t.path);
    REQUIRE(grown.size() > 500);
    {
        auto again = store::Store::open(t.path, tests::seeded_random(7));
        REQUIRE(again.ok());
        REQUIRE(again->rebuild().ok());
        CHECK(again->visits().size() == visits.size());
    }
    CHECK(dump_index(t.path) == grown);

    // Somebody changed the index: made anew it is right again.
    {
        store::Database database(t.path, store::Database::Make::No);
        database.run("UPDATE visit_index SET structure = 'QM-0999', entries = 1, is_signed = 1;"
                     "DELETE FROM visit_index WHERE first = 1");
    }
    CHECK(dump_index(t.path) != grown);
    {
        auto again = store::Store::open(t.path, tests::seeded_random(8));
        REQUIRE(again.ok());
        REQUIRE(again->rebuild().ok());
    }
    CHECK(dump_index(t.path) == grown);
}
