// The disk is full, or fails, at the n-th operation: each n of a short visit, once and for ever.
#include "tests/faults/confirmed.hpp"
#include "tests/faults/faulty_disk.hpp"
#include "tests/support/catch.hpp"

#include <iostream>

using namespace crossarm;
using tests::Confirmed;
using tests::FaultyDisk;
using tests::kMorning;

namespace {

struct Kind {
    const char* name;
    int code;
    FaultyDisk::Fails fails;
    FaultyDisk::What what;
};

const std::vector<Kind> kKinds = {
    {"full once", SQLITE_FULL, FaultyDisk::Fails::Once, FaultyDisk::What::Writes},
    {"full for ever", SQLITE_FULL, FaultyDisk::Fails::Forever, FaultyDisk::What::Writes},
    {"fails once", SQLITE_IOERR, FaultyDisk::Fails::Once, FaultyDisk::What::Anything},
    {"fails for ever", SQLITE_IOERR, FaultyDisk::Fails::Forever, FaultyDisk::What::Anything},
};

bool starts_with(const std::string& text, const std::string& start) {
    return text.rfind(start, 0) == 0;
}

const std::string kReopen = "; open the store again and look at what is there before going on";

/// After a fault every call that can says so, and the others are empty.
void check_given_up(store::Store& store, const std::string& path) {
    REQUIRE(store.fault());
    const std::string said = model::to_text(*store.fault());
    CHECK(starts_with(said, path + ": the store was closed after a disk fault ("));
    CHECK(said.find("); nothing more is kept" + kReopen) != std::string::npos);
    const model::Id visit = store.new_visit(kMorning);
    CHECK(model::to_text(store.append(visit, {tests::opened()}, kMorning, "P-014").problem()) == said);
    CHECK(model::to_text(store.entries(visit).problem()) == said);
    CHECK(model::to_text(store.texts(visit).problem()) == said);
    CHECK(model::to_text(store.keep_day_pack({}).problem()) == said);
    CHECK(model::to_text(store.mark_bundle("", store::HandOver::Received, "").problem()) == said);
    CHECK(model::to_text(store.rebuild().problem()) == said);
    CHECK(model::to_text(store.tidy().problem()) == said);
    CHECK(store.head(visit).empty());
    CHECK(store.visits().empty());
    CHECK(!store.newest_day_pack());
    CHECK(!store.bundle_of(visit));
    CHECK(store.outbox().empty());
}

/// Opens the store again on a sound disk: everything confirmed is there, and at most the one intent that was
/// under way (two entries, or a bundle) besides.
void check_whole(const std::string& path, const Confirmed& confirmed) {
    {
        const auto store = store::Store::open(path, tests::seeded_random(99));
        REQUIRE((store.ok() ? "" : model::to_text(store.problem())) == "");
        REQUIRE(tests::lost(*store, confirmed) == 0);
        REQUIRE(tests::size_of(*store) <= confirmed.count + 2);
        REQUIRE(store->outbox().size() <= confirmed.bundles.size() + 1);
    }
    REQUIRE(tests::integrity_of(path) == "ok");
}

} // namespace

TEST_CASE("a fault at any operation of a visit is told, and what was confirmed stays") {
    FaultyDisk disk;
    const std::string empty = tests::empty_store();
    for (const Kind& kind : kKinds) {
        int faults = 0;
        for (std::int64_t n = 1;; ++n) {
            INFO(kind.name << " at operation " << n);
            const tests::TempFolder folder;
            const std::string path = std::filesystem::canonical(folder.path()).string() + "/tablet.store";
            tests::write_file(path, empty);
            Confirmed confirmed;
            disk.fail(n, kind.code, kind.fails, kind.what);
            {
                auto store = store::Store::open(path, tests::seeded_random(5));
                if (!store) {
                    CHECK(starts_with(model::to_text(store.problem()), path + ": "));
                } else if (const auto done = tests::work(*store, 2, confirmed, /*intents=*/7); !done) {
                    const std::string said = model::to_text(done.problem());
                    CHECK(starts_with(said, path + ": not kept: "));
                    CHECK(said.find(kReopen) != std::string::npos);
                    check_given_up(*store, path);
                }
            }
            const bool failed = disk.has_failed();
            disk.heal();
            check_whole(path, confirmed);
            if (!failed) {
                REQUIRE(confirmed.count == 16);
                break;
            }
            ++faults;
        }
        std::cout << "disk " << kind.name << ": " << faults << " places, nothing confirmed was lost\n";
        CHECK(faults > 100);
    }
}

TEST_CASE("a fault at any operation of making a store leaves a whole store or none, and no remains") {
    FaultyDisk disk;
    for (const Kind& kind : kKinds) {
        for (std::int64_t n = 1;; ++n) {
            INFO(kind.name << " at operation " << n);
            const tests::TempFolder folder;
            const std::string path = std::filesystem::canonical(folder.path()).string() + "/tablet.store";
            disk.fail(n, kind.code, kind.fails, kind.what);
            {
                const auto store = store::Store::open(path, tests::seeded_random(5));
                if (!store) {
                    CHECK(starts_with(model::to_text(store.problem()), path + ": "));
                }
            }
            const bool failed = disk.has_failed();
            disk.heal();
            for (const auto& item : std::filesystem::directory_iterator(folder.path())) {
                CHECK(item.path().filename().string().find(".new-") == std::string::npos);
            }
            check_whole(path, {});
            if (!failed) {
                break;
            }
        }
    }
}

TEST_CASE("a full disk is called full when the store is opened") {
    FaultyDisk disk;
    const tests::TempFolder folder;
    const std::string path = std::filesystem::canonical(folder.path()).string() + "/tablet.store";
    disk.fail(3, SQLITE_FULL, FaultyDisk::Fails::Forever, FaultyDisk::What::Writes);
    const auto store = store::Store::open(path, tests::seeded_random(5));
    REQUIRE(!store.ok());
    CHECK(model::to_text(store.problem()) ==
          path + ": the disk is full: database or disk is full; free some space on the tablet, then open it "
                 "again");
}
