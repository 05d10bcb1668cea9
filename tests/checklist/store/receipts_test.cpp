#include "checklist/model/digest.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/small_visit.hpp"
#include "tests/support/temp_store.hpp"

#include <algorithm>
#include <sys/stat.h>
#include <vector>

using namespace crossarm;
using tests::kMorning;
using Made = store::Store::MadeBundle;

namespace {

constexpr std::int64_t kDay = 86'400'000;

model::Result<Made> make(std::int64_t seq, const std::string& prev) {
    const std::string bytes = "bundle " + std::to_string(seq) + " after " + prev;
    return Made{model::sha256_hex(bytes), bytes};
}

model::Timestamp later(std::int64_t ms) {
    return {kMorning.utc_ms + ms, 330};
}

store::ReceiptRow receipt_of(const store::Store& store, std::int64_t count) {
    store::ReceiptRow row;
    row.receipt.office = "Quillmere Valley Power Cooperative";
    row.receipt.epoch = std::string(32, 'e');
    row.receipt.count = count;
    row.receipt.device = store.device();
    row.receipt.at = later(count * 1'000);
    row.bytes = "receipt " + std::to_string(count);
    row.digest = model::sha256_hex(row.bytes);
    row.taken_at = kMorning;
    return row;
}

/// Three bundles of three visits; their digests.
std::vector<std::string> three_bundles(store::Store& store) {
    std::vector<std::string> out;
    for (int i = 0; i < 3; ++i) {
        out.push_back(store.keep_bundle(store.new_visit(kMorning), kMorning, make)->digest);
    }
    return out;
}

std::vector<store::HandOver> states(const store::Store& store) {
    std::vector<store::HandOver> out;
    for (const store::OutboxRow& row : store.outbox()) {
        out.push_back(row.state);
    }
    return out;
}

constexpr auto kWritten = store::HandOver::Written;
constexpr auto kReceived = store::HandOver::Received;

} // namespace

TEST_CASE("a bundle is received only when a receipt names its digest, and stays so") {
    tests::TempStore t;
    const auto digests = three_bundles(t.store);
    CHECK_FALSE(t.store.mark_bundle(digests[0], kReceived, "").ok()); // nobody else can say so

    auto row = receipt_of(t.store, 1);
    row.receipt.have = {{2, 1, digests[1]}};
    const auto news = t.store.take_receipt(row);
    REQUIRE(news.ok());
    CHECK(news->is_new);
    CHECK(news->newly_received == 1);
    CHECK(states(t.store) == std::vector{kWritten, kReceived, kWritten});
    CHECK(t.store.outbox()[1].confirmed_at == kMorning);
    // The number alone says nothing: the same number with another digest is another bundle.
    auto other = receipt_of(t.store, 2);
    other.receipt.have = {{1, 1, std::string(64, '7')}};
    REQUIRE(t.store.take_receipt(other).ok());
    CHECK(states(t.store) == std::vector{kWritten, kReceived, kWritten});
    t.reopen();
    CHECK(states(t.store) == std::vector{kWritten, kReceived, kWritten});
    CHECK_FALSE(t.store.take_receipt(row)->is_new);
}

TEST_CASE("a head vouches for every bundle before it, when it is this tablet's own") {
    tests::TempStore t;
    const auto digests = three_bundles(t.store);
    auto row = receipt_of(t.store, 1);
    row.receipt.complete_up_to = model::NumberedDigest{2, 1, std::string(64, '7')};
    REQUIRE(t.store.take_receipt(row).ok());
    CHECK(states(t.store) == std::vector{kWritten, kWritten, kWritten});
    row = receipt_of(t.store, 2);
    row.receipt.complete_up_to = model::NumberedDigest{2, 1, digests[1]};
    CHECK(t.store.take_receipt(row)->newly_received == 2);
    CHECK(states(t.store) == std::vector{kReceived, kReceived, kWritten});
}

TEST_CASE("receipts say the same in whatever order they come") {
    std::vector<int> order = {1, 2, 3, 4};
    std::vector<std::string> reasons;
    do {
        tests::TempStore t;
        const auto digests = three_bundles(t.store);
        for (const int count : order) {
            auto row = receipt_of(t.store, count);
            if (count >= 2) {
                row.receipt.have = {{1, 1, digests[0]}};
            }
            if (count == 1 || count == 2) {
                row.receipt.held_back = {{digests[2], "the key is not known"}};
            }
            if (count >= 3) {
                row.receipt.held_back = {{digests[1], "cut"}, {digests[0], "cannot be: it was received"}};
            }
            REQUIRE(t.store.take_receipt(row).ok());
        }
        const auto outbox = t.store.outbox();
        CHECK(states(t.store) == std::vector{kReceived, kWritten, kWritten});
        CHECK(outbox[0].held_back.empty());
        CHECK(outbox[1].held_back == "cut");
        CHECK(outbox[2].held_back.empty());
    } while (std::next_permutation(order.begin(), order.end()));
}

TEST_CASE("a receipt for another tablet changes nothing here") {
    tests::TempStore t;
    three_bundles(t.store);
    auto row = receipt_of(t.store, 1);
    row.receipt.device = "another";
    const auto news = t.store.take_receipt(row);
    REQUIRE_FALSE(news.ok());
    CHECK(news.problem().what == "it is for tablet another, and this is tablet " + t.store.device());
}

TEST_CASE("an office whose count goes back was put back from a backup") {
    tests::TempStore t;
    CHECK_FALSE(t.store.take_receipt(receipt_of(t.store, 5))->office_went_back);
    CHECK_FALSE(t.store.take_receipt(receipt_of(t.store, 3))->office_went_back); // an old one that came late
    auto row = receipt_of(t.store, 4);
    row.receipt.at = later(kDay);
    CHECK(t.store.take_receipt(row)->office_went_back);
}

TEST_CASE("a bundle in the tablet's name that it never wrote stops it until a new life begins") {
    tests::TempStore t;
    three_bundles(t.store);
    auto row = receipt_of(t.store, 1);
    row.receipt.have = {{4, 1, std::string(64, '7')}};
    REQUIRE(t.store.take_receipt(row).ok());
    REQUIRE(t.store.written_elsewhere().size() == 1);
    const auto refused = t.store.keep_bundle(t.store.new_visit(kMorning), kMorning, make);
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problem().what.find("put back from a backup, or copied") != std::string::npos);

    const auto seed = t.store.identity().seed;
    REQUIRE(t.store.begin_life(kMorning).ok());
    CHECK(t.store.identity().life == 2);
    CHECK(t.store.identity().seed != seed);
    CHECK(t.store.written_elsewhere().empty());
    const auto made = t.store.keep_bundle(t.store.new_visit(kMorning), kMorning, make);
    REQUIRE(made.ok());
    CHECK(made->seq == 4); // the row goes on through all lives
    CHECK(made->life == 2);
    t.reopen();
    CHECK(t.store.identity().life == 2);
    CHECK(t.store.outbox().back().life == 2);
}

TEST_CASE("the bytes of a bundle may go only 90 days after the office confirmed it") {
    struct Case {
        store::HandOver state;
        std::optional<model::Timestamp> confirmed;
        std::int64_t days;
        bool may;
    };
    for (const Case& one : {Case{kWritten, std::nullopt, 900, false},
                            Case{store::HandOver::HandedOver, std::nullopt, 900, false},
                            Case{kReceived, std::nullopt, 900, false}, Case{kReceived, kMorning, 0, false},
                            Case{kReceived, kMorning, 89, false}, Case{kReceived, kMorning, 90, true},
                            Case{kReceived, kMorning, -900, false}}) {
        store::OutboxRow row;
        row.state = one.state;
        row.confirmed_at = one.confirmed;
        CHECK(store::may_drop(row, later(one.days * kDay)) == one.may);
    }
}

TEST_CASE("dropping takes only what may go, all or nothing, and keeps the row") {
    tests::TempStore t;
    const auto digests = three_bundles(t.store);
    auto row = receipt_of(t.store, 1);
    row.receipt.have = {{1, 1, digests[0]}, {2, 1, digests[1]}};
    REQUIRE(t.store.take_receipt(row).ok());
    const auto now = later(91 * kDay);
    CHECK(t.store.droppable(later(kDay)).empty());
    CHECK(t.store.droppable(now) == std::vector{digests[0], digests[1]});
    CHECK_FALSE(t.store.drop({digests[0], digests[2]}, now).ok());
    const auto visit = t.store.outbox()[0].visit;
    CHECK_FALSE(t.store.bundle_of(visit)->bytes.empty());
    REQUIRE(t.store.drop({digests[0]}, now).ok());
    CHECK(t.store.bundle_of(visit)->bytes.empty());
    CHECK(t.store.bundle_of(visit)->digest == digests[0]);
    t.reopen(); // and the store is still whole
    CHECK(t.store.outbox().size() == 3);
}

TEST_CASE("an amendment is another bundle of the visit, and an open copy never stands for a closed one") {
    tests::TempStore t;
    const auto visit = t.store.new_visit(kMorning);
    const auto open = t.store.keep_bundle(visit, kMorning, make, {1, true});
    REQUIRE(open.ok());
    CHECK_FALSE(t.store.bundle_of(visit));
    const auto closed = t.store.keep_bundle(visit, kMorning, make);
    REQUIRE(closed.ok());
    CHECK(closed->seq == 2);
    CHECK(t.store.keep_bundle(visit, kMorning, make)->seq == 2);
    const auto amended = t.store.keep_bundle(visit, kMorning, make, {2, false});
    REQUIRE(amended.ok());
    CHECK(amended->seq == 3);
    CHECK(t.store.bundle_of(visit)->revision == 2);
    CHECK(t.store.keep_bundle(visit, kMorning, make, {2, false})->seq == 3);
}

TEST_CASE("a new store has a key of its own that nobody else may read, and remembers the office's keys") {
    tests::TempStore t(7);
    const tests::TempStore other(8);
    CHECK(t.store.identity().life == 1);
    CHECK(t.store.identity().seed != other.store.identity().seed);
    struct stat about{};
    REQUIRE(::stat(t.path.c_str(), &about) == 0);
    CHECK((about.st_mode & 0777U) == 0600);
    REQUIRE(::stat((t.path + "-wal").c_str(), &about) == 0);
    CHECK((about.st_mode & 0777U) == 0600);

    store::PinnedKey key;
    key.key.fill(3);
    key.by = "P-003";
    key.at = kMorning;
    REQUIRE(t.store.pin(key).ok());
    REQUIRE(t.store.pin(key).ok());
    const auto seed = t.store.identity().seed;
    t.reopen();
    CHECK(t.store.identity().seed == seed);
    REQUIRE(t.store.pinned().size() == 1);
    CHECK(t.store.pinned()[0].by == "P-003");
    CHECK(t.store.pinned()[0].key == key.key);
}
