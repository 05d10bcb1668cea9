#include "checklist/store/store.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/small_visit.hpp"
#include "tests/support/temp_store.hpp"

using namespace crossarm;
using tests::kMorning;

TEST_CASE("an entry that was kept is there after the store was closed and opened again") {
    tests::TempStore t;
    const std::string device = t.store.device();
    const model::Id visit = t.store.new_visit(kMorning);
    const auto first = t.store.append(visit, {tests::opened()}, kMorning, "P-014");
    REQUIRE(first.ok());
    const auto more =
        t.store.append(visit,
                       {tests::found("tank.leak", model::Grade::Watch, "weeping at the lower gasket"),
                        tests::found("tank.rust", model::Grade::Sound)},
                       kMorning, "P-014");
    REQUIRE(more.ok());

    t.reopen();

    CHECK(t.store.device() == device);
    const auto entries = t.store.entries(visit);
    REQUIRE(entries.ok());
    REQUIRE(entries->size() == 3);
    CHECK((*entries)[0] == first->front().entry);
    CHECK((*entries)[1] == more->front().entry);
    CHECK((*entries)[2] == more->back().entry);
    CHECK(t.store.head(visit) == more->back().hash);
}

TEST_CASE("entries of a visit count from 1 and each names the hash of the one before") {
    tests::TempStore t;
    const model::Id visit = t.store.new_visit(kMorning);
    const auto kept = t.store.append(visit, {tests::opened(), tests::found("tank.leak", model::Grade::Sound)},
                                     kMorning, "P-014");
    REQUIRE(kept.ok());
    REQUIRE(kept->size() == 2);
    CHECK((*kept)[0].entry.seq == 1);
    CHECK((*kept)[0].entry.prev.empty());
    CHECK((*kept)[1].entry.seq == 2);
    CHECK((*kept)[1].entry.prev == (*kept)[0].hash);
    const auto texts = t.store.texts(visit);
    REQUIRE(texts.ok());
    REQUIRE(texts->size() == 2);
    CHECK((*texts)[1] == model::to_canonical((*kept)[1].entry));
    CHECK(model::hash_of((*texts)[1]) == (*kept)[1].hash);
}

TEST_CASE("a visit that the store does not know has no entries and no head") {
    tests::TempStore t;
    const model::Id unknown = t.store.new_visit(kMorning);
    CHECK(t.store.entries(unknown).value().empty());
    CHECK(t.store.head(unknown).empty());
    CHECK(t.store.visits().empty());
}

TEST_CASE("an intent of no entries keeps nothing") {
    tests::TempStore t;
    const auto kept = t.store.append(t.store.new_visit(kMorning), {}, kMorning, "P-014");
    REQUIRE(kept.ok());
    CHECK(kept->empty());
    CHECK(t.store.visits().empty());
}

TEST_CASE("a tablet whose clock is far off is told to set it, and nothing is kept") {
    tests::TempStore t;
    const model::Id visit = t.store.new_visit(kMorning);
    for (const model::Timestamp at :
         {model::Timestamp{-1, 0}, model::Timestamp{253'402'300'800'000, 0}, model::Timestamp{0, 1440}}) {
        const auto kept = t.store.append(visit, {tests::opened()}, at, "P-014");
        REQUIRE(!kept.ok());
        CHECK(model::to_text(kept.problem()) ==
              "the tablet's clock: it does not show a date between 1970 and 9999; set date and time of the "
              "tablet");
    }
    CHECK(t.store.entries(visit).value().empty());
    CHECK(t.store.append(visit, {tests::opened()}, kMorning, "P-014").ok());
}

TEST_CASE("a clock that goes back does not change the order of entries") {
    tests::TempStore t;
    const model::Id visit = t.store.new_visit(kMorning);
    REQUIRE(t.store.append(visit, {tests::opened()}, kMorning, "P-014").ok());
    const model::Timestamp a_year_back{kMorning.utc_ms - 365LL * 24 * 3600 * 1000, 330};
    REQUIRE(
        t.store.append(visit, {tests::found("tank.leak", model::Grade::Danger)}, a_year_back, "P-014").ok());
    t.reopen();
    const auto entries = t.store.entries(visit);
    REQUIRE(entries->size() == 2);
    CHECK((*entries)[1].seq == 2);
    CHECK((*entries)[0].id < (*entries)[1].id);
    CHECK(t.store.visits().front().last_at == a_year_back);
}
