#include "checklist/store/store.hpp"

#include "checklist/model/digest.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/small_visit.hpp"
#include "tests/support/temp_store.hpp"

using namespace crossarm;
using tests::kMorning;

namespace {

store::PackRow pack(std::int64_t number, const std::string& bytes) {
    return {number, model::sha256_hex(bytes), bytes, kMorning};
}

} // namespace

TEST_CASE("the newest day pack is the one that counts, byte for byte, also after a restart") {
    tests::TempStore t;
    CHECK(!t.store.newest_day_pack());
    const std::string bytes("{\"body\":{}}\0\xff", 13);
    REQUIRE(t.store.keep_day_pack(pack(3, "older")).ok());
    REQUIRE(t.store.keep_day_pack(pack(12, bytes)).ok());
    t.reopen();
    const auto newest = t.store.newest_day_pack();
    REQUIRE(newest);
    CHECK(newest->number == 12);
    CHECK(newest->digest == model::sha256_hex(bytes));
    CHECK(newest->bytes == bytes);
    CHECK(newest->loaded_at == kMorning);
}

TEST_CASE("a day pack is loaded any number of times, but never an older or a different one") {
    tests::TempStore t;
    REQUIRE(t.store.keep_day_pack(pack(12, "twelve")).ok());
    CHECK(t.store.keep_day_pack(pack(12, "twelve")).ok());
    struct Row {
        store::PackRow pack;
        const char* refusal;
    };
    const std::vector<Row> rows = {
        {pack(11, "eleven"),
         "day pack 11: this tablet already has the newer day pack 12; load the newest day pack"},
        {pack(12, "other"),
         "day pack 12: this tablet already has a day pack of that number with other content; ask the office "
         "which one counts and for a day pack with a new number"},
        {pack(0, "zero"), "day pack 0: it has no number from 1 on or no SHA-256 digest; ask the office for a "
                          "new day pack"},
        {{13, "short", "thirteen", kMorning},
         "day pack 13: it has no number from 1 on or no SHA-256 digest; ask the office for a new day pack"},
        {{13, model::sha256_hex("13"), "13", {-5, 0}},
         "the tablet's clock: it does not show a date between 1970 and 9999; set date and time of the "
         "tablet"},
    };
    for (const Row& row : rows) {
        const auto kept = t.store.keep_day_pack(row.pack);
        REQUIRE(!kept.ok());
        CHECK(model::to_text(kept.problem()) == row.refusal);
        CHECK(t.store.newest_day_pack()->bytes == "twelve");
    }
    CHECK(!t.store.fault());
    CHECK(t.store.keep_day_pack(pack(13, "thirteen")).ok());
}
