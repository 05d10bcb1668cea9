#include "checklist/store/store.hpp"

#include "checklist/model/digest.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/small_visit.hpp"
#include "tests/support/temp_store.hpp"

using namespace crossarm;
using store::HandOver;
using tests::kMorning;

namespace {

model::Result<store::Store::MadeBundle> make(std::int64_t seq, const std::string& prev) {
    const std::string bytes = "bundle " + std::to_string(seq) + " after " + prev;
    return store::Store::MadeBundle{model::sha256_hex(bytes), bytes};
}

} // namespace

TEST_CASE("bundles count from 1, each names the digest of the one before, and their bytes stay") {
    tests::TempStore t;
    const model::Id one = t.store.new_visit(kMorning);
    const model::Id two = t.store.new_visit(kMorning);
    CHECK(!t.store.bundle_of(one));
    const auto first = t.store.keep_bundle(one, kMorning, make);
    REQUIRE(first.ok());
    CHECK(first->seq == 1);
    CHECK(first->bytes == "bundle 1 after ");
    CHECK(first->state == HandOver::Written);
    const auto second = t.store.keep_bundle(two, kMorning, make);
    REQUIRE(second.ok());
    CHECK(second->seq == 2);
    CHECK(second->bytes == "bundle 2 after " + first->digest);

    t.reopen();

    const auto here = t.store.bundle_of(one);
    REQUIRE(here);
    CHECK(here->bytes == first->bytes);
    CHECK(here->digest == first->digest);
    CHECK(here->visit == one);
    const auto rows = t.store.outbox();
    REQUIRE(rows.size() == 2);
    CHECK(rows[0].digest == first->digest);
    CHECK(rows[1].digest == second->digest);
    CHECK(rows[1].bytes.empty());
}

TEST_CASE("a visit that has its bundle gets the same bytes again, and nothing is made") {
    tests::TempStore t;
    const model::Id visit = t.store.new_visit(kMorning);
    const auto first = t.store.keep_bundle(visit, kMorning, make);
    int made = 0;
    const auto again = t.store.keep_bundle(
        visit, kMorning,
        [&made](std::int64_t, const std::string&) -> model::Result<store::Store::MadeBundle> {
            ++made;
            return model::Problem{"bundle", "made twice", "do not"};
        });
    REQUIRE(again.ok());
    CHECK(made == 0);
    CHECK(again->bytes == first->bytes);
    CHECK(t.store.outbox().size() == 1);
}

TEST_CASE("a bundle that could not be made takes no number") {
    tests::TempStore t;
    const model::Id visit = t.store.new_visit(kMorning);
    const auto failed = t.store.keep_bundle(
        visit, kMorning, [](std::int64_t, const std::string&) -> model::Result<store::Store::MadeBundle> {
            return model::Problem{"visit", "it is not signed", "sign it first"};
        });
    REQUIRE(!failed.ok());
    CHECK(model::to_text(failed.problem()) == "visit: it is not signed; sign it first");
    CHECK(!t.store.bundle_of(visit));
    const auto kept = t.store.keep_bundle(visit, kMorning, make);
    REQUIRE(kept.ok());
    CHECK(kept->seq == 1);
}

TEST_CASE("a bundle is made from what the store has: reading is allowed while it is made") {
    tests::TempStore t;
    const model::Id visit = t.store.new_visit(kMorning);
    REQUIRE(t.store.append(visit, {tests::opened()}, kMorning, "P-014").ok());
    const auto kept = t.store.keep_bundle(
        visit, kMorning, [&](std::int64_t, const std::string&) -> model::Result<store::Store::MadeBundle> {
            const auto texts = t.store.texts(visit);
            if (!texts) {
                return texts.problem();
            }
            return store::Store::MadeBundle{model::sha256_hex(texts->front()), texts->front()};
        });
    REQUIRE(kept.ok());
    CHECK(kept->bytes == t.store.texts(visit)->front());
}

TEST_CASE("how far a bundle has come only goes forward, and where it was written is remembered") {
    tests::TempStore t;
    const model::Id visit = t.store.new_visit(kMorning);
    const std::string digest = t.store.keep_bundle(visit, kMorning, make)->digest;
    struct Row {
        HandOver state;
        const char* file;
        HandOver then;
        const char* file_then;
    };
    for (const Row& row :
         {Row{HandOver::HandedOver, "/media/stick/a.json", HandOver::HandedOver, "/media/stick/a.json"},
          Row{HandOver::Written, "", HandOver::HandedOver, "/media/stick/a.json"},
          Row{HandOver::HandedOver, "/media/stick/b.json", HandOver::HandedOver, "/media/stick/b.json"},
          Row{HandOver::Written, "", HandOver::HandedOver, "/media/stick/b.json"}}) {
        REQUIRE(t.store.mark_bundle(digest, row.state, row.file).ok());
        t.reopen();
        const auto here = t.store.bundle_of(visit);
        REQUIRE(here);
        CHECK(here->state == row.then);
        CHECK(here->file == row.file_then);
    }
    const auto unknown = t.store.mark_bundle("abc", HandOver::HandedOver, "");
    REQUIRE(!unknown.ok());
    CHECK(model::to_text(unknown.problem()) == "bundle abc: this tablet has no such bundle; look in the list "
                                               "of bundles for the right one");
}
