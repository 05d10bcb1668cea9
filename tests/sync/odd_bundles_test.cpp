// What is noted of gaps and forks as bundles come is what a look at all of them says.
#include "sync/office/odd_bundles.hpp"
#include "sync/office/office_schema.hpp"
#include "sync/office/sequence.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/office_desk.hpp"

#include <algorithm>
#include <random>
#include <set>

using namespace crossarm;

namespace {

/// Bundles of three tablets, some of them written twice under one number, in any order, some never.
std::vector<office::BundleRow> some_bundles(std::mt19937& dice) {
    std::vector<office::BundleRow> rows;
    for (unsigned tablet = 0; tablet < 3; ++tablet) {
        std::string prev;
        for (std::int64_t seq = 1; seq <= 6; ++seq) {
            const int times = dice() % 4 == 0 ? 2 : 1;
            std::string next;
            for (int i = 0; i < times; ++i) {
                next = model::sha256_hex(std::to_string(dice()));
                rows.push_back({next, tests::sample_device(tablet), 1, seq, prev, tests::sample_id(dice())});
            }
            prev = next;
        }
    }
    std::shuffle(rows.begin(), rows.end(), dice);
    rows.resize(rows.size() - 3 - dice() % 4);
    return rows;
}

void put(store::Database& database, const office::BundleRow& row) {
    store::Statement insert(database,
                            "INSERT INTO bundle (digest, device, life, seq, prev, visit, raw, taken_ms, "
                            "taken_offset) VALUES (?1, ?2, ?3, ?4, ?5, ?6, x'00', 0, 0)");
    insert.bind(1, row.digest).bind(2, row.device).bind(3, row.life).bind(4, row.seq).bind(5, row.prev);
    insert.bind_blob(6, std::string(row.visit.bytes.begin(), row.visit.bytes.end())).finish();
}

office::Sequence sequence_of(const std::vector<office::BundleRow>& looked_at,
                             const std::vector<office::BundleRow>& all) {
    std::set<std::string> held;
    for (const office::BundleRow& row : all) {
        held.insert(row.digest);
    }
    return office::check_sequence(looked_at,
                                  [&](const std::string& digest) { return held.contains(digest); });
}

} // namespace

TEST_CASE("gaps and forks noted one by one are those of a look at all bundles, after each of them") {
    std::size_t gaps = 0;
    std::size_t forks = 0;
    for (std::uint32_t seed = 1; seed <= 40; ++seed) {
        INFO("seed " << seed);
        std::mt19937 dice(seed);
        const tests::TempFolder folder;
        store::Database database(folder.file("office"), store::Database::Make::Yes);
        store::migrate(database, office::office_migrations());
        std::vector<office::BundleRow> all;
        for (const office::BundleRow& row : some_bundles(dice)) {
            put(database, row);
            office::note_odd(database, row);
            all.push_back(row);
            const office::Sequence noted = sequence_of(office::odd_ones(database), all);
            const office::Sequence whole = sequence_of(all, all);
            REQUIRE(noted.gaps == whole.gaps);
            REQUIRE(noted.forks == whole.forks);
            gaps += whole.gaps.size();
            forks += whole.forks.size();
        }
    }
    CHECK(gaps > 100);
    CHECK(forks > 100);
}

TEST_CASE("an office store from before they were noted finds its gaps and forks when it is opened") {
    std::mt19937 dice(7);
    const tests::TempFolder folder;
    store::Database database(folder.file("office"), store::Database::Make::Yes);
    auto before = office::office_migrations();
    before.resize(3);
    store::migrate(database, before);
    const auto all = some_bundles(dice);
    for (const office::BundleRow& row : all) {
        put(database, row);
    }
    store::migrate(database, office::office_migrations());
    const office::Sequence noted = sequence_of(office::odd_ones(database), all);
    const office::Sequence whole = sequence_of(all, all);
    CHECK(noted.gaps == whole.gaps);
    CHECK(noted.forks == whole.forks);
    CHECK_FALSE(whole.gaps.empty());
    CHECK_FALSE(whole.forks.empty());
}
