#include "checklist/store/head_file.hpp"
#include "checklist/store/place.hpp"
#include "checklist/store/settings.hpp"
#include "checklist/store/store.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/small_visit.hpp"
#include "tests/support/temp_store.hpp"

using namespace crossarm;
using tests::kMorning;

namespace {

/// A closed store with one visit of ten entries.
struct Closed {
    tests::TempFolder folder;
    std::string path = std::filesystem::canonical(folder.path()).string() + "/tablet.store";
    std::string device;
    model::Id visit;
    std::vector<store::Kept> kept;

    Closed() {
        auto store = store::Store::open(path, tests::seeded_random(1));
        REQUIRE(store.ok());
        device = store->device();
        visit = store->new_visit(kMorning);
        take(*store, tests::opened());
        for (int i = 2; i <= 10; ++i) {
            take(*store, tests::found("tank.leak", model::Grade::Watch, "drip " + std::to_string(i)));
        }
    }
    void take(store::Store& store, const model::Body& body) {
        auto more = store.append(visit, {body}, kMorning, "P-014");
        REQUIRE(more.ok());
        kept.push_back(more->front());
    }
    [[nodiscard]] std::string refusal() const {
        const auto opened = store::Store::open(path, tests::seeded_random(2));
        return opened ? "" : model::to_text(opened.problem());
    }
    void run_sql(const std::string& sql) const {
        store::Database database(path, store::Database::Make::No);
        database.run(sql);
    }
    [[nodiscard]] std::string at_entry(int seq) const {
        return path + ": visit " + model::to_text(visit) + ", device " + device + ", entry " +
               std::to_string(seq);
    }
};

const std::string kStopChain = "; do not go on with this store; keep the file and tell the office";
const std::string kStop =
    "; do not go on with this store; keep it with its log and head file, and tell the office";

} // namespace

TEST_CASE("one changed letter in an entry's text is noticed when the store is opened") {
    const Closed closed;
    std::string bytes = tests::read_file(closed.path);
    const std::size_t at = bytes.find("drip 4");
    REQUIRE(at != std::string::npos);
    bytes[at + 5] = static_cast<char>(bytes[at + 5] ^ 1); // drip 5
    tests::write_file(closed.path, bytes);
    CHECK(closed.refusal() ==
          closed.at_entry(4) + ": its text is not what was kept: the hash does not match" + kStopChain);
    CHECK(tests::read_file(closed.path) == bytes);
    CHECK(!std::filesystem::exists(closed.path + "-wal"));
}

TEST_CASE("an entry that was rewritten together with its hash breaks the chain at the next one") {
    const Closed closed;
    model::Entry other = closed.kept[3].entry;
    other.by = "P-015";
    const std::string text = model::to_canonical(other);
    closed.run_sql("UPDATE entry SET text = '" + text + "', hash = '" + model::hash_of(text) +
                   "' WHERE seq = 4");
    CHECK(closed.refusal() == closed.at_entry(5) +
                                  ": the entry before it was changed: the chain of hashes is broken" +
                                  kStopChain);
}

TEST_CASE("an entry taken out of the middle is noticed") {
    const Closed closed;
    closed.run_sql("DELETE FROM entry WHERE seq = 6");
    CHECK(closed.refusal() == closed.at_entry(7) + ": entry 6 is missing before it" + kStopChain);
}

TEST_CASE("entries cut off at the end are noticed through the head file") {
    const Closed closed;
    closed.run_sql("DELETE FROM entry WHERE seq > 8; UPDATE visit_index SET last = 8, entries = 8");
    CHECK(closed.refusal() == closed.path + ": entries are missing: the head file knows entry 10 of visit " +
                                  model::to_text(closed.visit) + ", the journal does not have it" + kStop);
}

TEST_CASE("the last entry rewritten together with its hash is noticed through the head file") {
    const Closed closed;
    model::Entry other = closed.kept[9].entry;
    other.by = "P-015";
    const std::string text = model::to_canonical(other);
    closed.run_sql("UPDATE entry SET text = '" + text + "', hash = '" + model::hash_of(text) +
                   "' WHERE seq = 10");
    CHECK(closed.refusal() == closed.path + ": entries are missing: the head file knows entry 10 of visit " +
                                  model::to_text(closed.visit) + ", the journal does not have it" + kStop);
}

TEST_CASE("an entry whose columns say another place than its text is noticed") {
    const Closed closed;
    closed.run_sql("UPDATE entry SET id = x'00112233445566778899aabbccddeeff' WHERE seq = 2");
    CHECK(closed.refusal() ==
          closed.at_entry(2) + ": its text belongs to another place in the journal" + kStopChain);
}

TEST_CASE("a text that is no entry but has the right hash is noticed") {
    const Closed closed;
    closed.run_sql("UPDATE entry SET text = '{}', hash = '" + model::hash_of("{}") + "' WHERE seq = 10");
    const std::string text = closed.refusal();
    CHECK(text.substr(0, text.find("be read: ") + 9) == closed.at_entry(10) + ": its text cannot be read: ");
}

TEST_CASE("an index row that refers to no entry is noticed") {
    const Closed closed;
    closed.run_sql("PRAGMA foreign_keys=OFF; UPDATE visit_index SET last = 99");
    CHECK(closed.refusal() ==
          closed.path + ": the store is damaged: a row of visit_index refers to nothing" + kStop);
}

TEST_CASE("a store older than its head file, put back from a copy, is refused") {
    Closed closed;
    const std::string old = tests::read_file(closed.path);
    {
        auto store = store::Store::open(closed.path, tests::seeded_random(4));
        REQUIRE(store.ok());
        closed.take(*store, tests::found("tank.rust", model::Grade::Sound));
    }
    tests::write_file(closed.path, old);
    CHECK(closed.refusal() == closed.path + ": entries are missing: the head file knows entry 11 of visit " +
                                  model::to_text(closed.visit) + ", the journal does not have it" + kStop);
    CHECK(tests::read_file(closed.path) == old);
}

TEST_CASE("a bundle that is missing is noticed through the head file") {
    Closed closed;
    const std::string old = tests::read_file(closed.path);
    {
        auto store = store::Store::open(closed.path, tests::seeded_random(4));
        REQUIRE(store.ok());
        REQUIRE(store
                    ->keep_bundle(closed.visit, kMorning,
                                  [](std::int64_t, const std::string&) {
                                      return store::Store::MadeBundle{std::string(64, 'd'), "bytes"};
                                  })
                    .ok());
    }
    tests::write_file(closed.path, old);
    CHECK(closed.refusal() ==
          closed.path + ": a bundle is missing: the head file knows bundle 1, the outbox does not have it" +
              kStop);
}

TEST_CASE("a head file that lags, is torn or is not there does no harm and is made anew") {
    const Closed closed;
    const std::string head = closed.path + ".head";
    const std::string right = tests::read_file(head);
    SECTION("not there") {
        std::filesystem::remove(head);
    }
    SECTION("empty") {
        tests::write_file(head, "");
    }
    SECTION("cut off") {
        tests::write_file(head, right.substr(0, 200));
    }
    SECTION("a letter changed") {
        tests::write_file(head, "C" + right.substr(1));
    }
    SECTION("something else") {
        tests::write_file(head, std::string(5000, 'h'));
    }
    SECTION("lags") {
        store::Head lagging = store::read_head(right).value();
        lagging.seq = 7;
        lagging.hash = closed.kept[6].hash;
        tests::write_file(head, store::to_text(lagging));
    }
    CHECK(closed.refusal() == "");
    CHECK(tests::read_file(head).substr(0, right.size()) == right);
}

TEST_CASE("a head file is read back as it was written, and no other text is one") {
    store::Head head;
    head.device = "0199aabb-ccdd-7eef-8011-223344556677";
    CHECK(store::read_head(store::to_text(head)) == head);
    head.seq = 14;
    head.hash = std::string(64, 'e');
    head.bundle_seq = 3;
    head.bundle_digest = std::string(64, 'b');
    const std::string text = store::to_text(head);
    CHECK(text.size() < 512);
    CHECK(store::read_head(text) == head);
    for (std::size_t size = 0; size < text.size(); ++size) {
        CHECK(!store::read_head(text.substr(0, size)));
    }
    for (std::size_t at = 0; at < text.size(); ++at) {
        std::string flipped = text;
        flipped[at] = static_cast<char>(flipped[at] ^ 1);
        CHECK(!store::read_head(flipped));
    }
}

// A log with one damaged frame ends before it, without a word: the next commit's frames are dropped too.
TEST_CASE("a flipped bit in the log is noticed through the head file, and the log is copied aside") {
    Closed closed;
    const std::string journal = closed.path + "-wal";
    std::string log;
    std::string main_file;
    std::string head;
    {
        auto store = store::Store::open(closed.path, tests::seeded_random(4));
        REQUIRE(store.ok());
        for (int i = 0; i < 20; ++i) {
            closed.take(*store, tests::found("tank.rust", model::Grade::Sound));
        }
        log = tests::read_file(journal);
        main_file = tests::read_file(closed.path);
        head = tests::read_file(closed.path + ".head");
    }
    const auto put_back = [&] {
        tests::write_file(closed.path, main_file);
        tests::write_file(journal, log);
        tests::write_file(closed.path + ".head", head);
    };
    put_back();
    REQUIRE(closed.refusal() == "");

    log[log.size() / 2] = static_cast<char>(log[log.size() / 2] ^ 4);
    put_back();
    const std::string copy = journal + ".kept-" + model::hash_of(log).substr(0, 8);
    const std::string expected = closed.path +
                                 ": entries are missing: the head file knows entry 30 of visit " +
                                 model::to_text(closed.visit) +
                                 ", the journal does not have it; the log was copied to " + copy + kStop;
    CHECK(closed.refusal() == expected);
    CHECK(tests::read_file(copy) == log);
    CHECK(tests::read_file(journal) == log);
    CHECK(tests::read_file(closed.path) == main_file);
    CHECK(tests::read_file(closed.path + ".head") == head);
    CHECK(closed.refusal() == expected); // still refused, still the same
}

TEST_CASE("a damaged page is noticed after an unclean close") {
    Closed closed;
    std::string main_file;
    std::string log;
    {
        auto store = store::Store::open(closed.path, tests::seeded_random(4));
        REQUIRE(store.ok());
        closed.take(*store, tests::found("tank.rust", model::Grade::Sound));
        log = tests::read_file(closed.path + "-wal");
        main_file = tests::read_file(closed.path);
    }
    // The outbox is empty and no commit in the log touches it: only the check of the pages looks there.
    std::int64_t page = 0;
    {
        store::Database database(closed.path, store::Database::Make::No);
        page = database.number("SELECT rootpage FROM sqlite_schema WHERE name = 'outbox'");
    }
    main_file.replace(static_cast<std::size_t>(page - 1) * 4096, 16, std::string(16, '\x7f'));
    tests::write_file(closed.path, main_file);
    tests::write_file(closed.path + "-wal", log);
    const std::string text = closed.refusal();
    CHECK(text.substr(0, closed.path.size() + 22) == closed.path + ": the store is damaged");
    CHECK(tests::read_file(closed.path + "-wal") == log);
}
