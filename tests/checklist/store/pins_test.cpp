#include "checklist/store/pins.hpp"

#include "checklist/store/pin_rules.hpp"
#include "checklist/store/place.hpp"
#include "checklist/store/schema.hpp"
#include "checklist/store/settings.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/temp_store.hpp"

#include <cmath>
#include <csignal>
#include <limits>
#include <poll.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace crossarm;
using store::PinAnswer;
using store::PinTry;

namespace {

// The least that libsodium takes, so that a test can try a thousand times.
constexpr store::PinCost kCheap{1, 8'192};

const model::Person kLead{"P-016", "A Lead", {"crew", "lead"}};
const model::Person kCrew{"P-003", "A Doer", {"crew"}};
const model::Person kMate{"P-007", "A Mate", {"crew"}};
const std::string kLeadPin = "482915";
const std::string kCrewPin = "730264";

store::PinMoment at(double since_boot_s, std::int64_t wall_ms = 1'795'590'000'000) {
    return {{wall_ms, 0}, since_boot_s};
}

std::string text_of(const model::Done& done) {
    return done ? "" : model::to_text(done.problem());
}

/// A tablet on which a lead and one of the crew have a PIN.
struct Tablet {
    tests::TempStore t;
    Tablet() {
        REQUIRE(text_of(t.store.set_pin(kLead, kLeadPin, {}, at(10), kCheap)).empty());
        REQUIRE(text_of(t.store.set_pin(kCrew, kCrewPin, store::PinWitness{kLead, kLeadPin}, at(11), kCheap))
                    .empty());
    }
    PinTry tried(const std::string& digits, store::PinMoment when) {
        return t.store.try_pin(kCrew.id, digits, when).value();
    }
};

std::int64_t rows_in(const std::string& path, const std::string& table) {
    store::Database database(path, store::Database::Make::No);
    return database.number("SELECT count(*) FROM " + table);
}

} // namespace

TEST_CASE("hashes that another program made are verified") {
    struct Case {
        std::string digits, phc;
    };
    // Made by the argon2 command of the reference implementation (Debian 12, argon2 0~20171227):
    //   echo -n 482915 | argon2 fixedsaltfixedsa -id -t T -k KIB -p 1 -e
    const std::vector<Case> cases = {
        {"482915",
         "$argon2id$v=19$m=65536,t=3,p=1$Zml4ZWRzYWx0Zml4ZWRzYQ$/4seLaf9VbPySFWZYpv191JA8ue1bHejz2hg/"
         "QW9ggc"},
        {"482915",
         "$argon2id$v=19$m=64,t=1,p=1$Zml4ZWRzYWx0Zml4ZWRzYQ$rvj2HHVvqScaYpuVKvKQdqDBAOyoG+F8ylo+t1HlY78"},
    };
    for (const Case& one : cases) {
        CHECK(store::PinHash::fits(one.digits, one.phc));
        CHECK_FALSE(store::PinHash::fits("482916", one.phc));
        CHECK_FALSE(store::PinHash::fits("", one.phc));
        std::string other = one.phc;
        other[one.phc.size() - 5] = other[one.phc.size() - 5] == 'A' ? 'B' : 'A';
        CHECK_FALSE(store::PinHash::fits(one.digits, other));
    }
    CHECK_FALSE(store::PinHash::fits("482915", ""));
    CHECK_FALSE(store::PinHash::fits("482915", std::string(1'000, '$')));
}

TEST_CASE("a hash says its cost, and is another one every time") {
    const std::string one = store::PinHash().make(kLeadPin);
    CHECK(one.substr(0, 30) == "$argon2id$v=19$m=65536,t=3,p=1");
    CHECK(store::PinHash(kCheap).make(kLeadPin) != store::PinHash(kCheap).make(kLeadPin));
    CHECK(store::PinHash::fits(kLeadPin, one));
}

TEST_CASE("the first PIN on a tablet is a lead's, and every other one is witnessed") {
    tests::TempStore t;
    CHECK(text_of(t.store.set_pin(kCrew, kCrewPin, {}, at(1), kCheap)) ==
          "the PIN of P-003: the first PIN on a tablet is a lead's; let a lead begin");
    CHECK(text_of(t.store.set_pin(kLead, "123456", {}, at(1), kCheap)) ==
          "the new PIN: the digits of the PIN follow each other; choose 6 to 12 digits that nobody guesses");
    CHECK(text_of(t.store.set_pin(kLead, kLeadPin, {}, at(1), kCheap)).empty());
    CHECK(text_of(t.store.set_pin(kCrew, kCrewPin, {}, at(1), kCheap)) ==
          "the PIN of P-003: nobody confirms it; let somebody confirm who has a PIN on this tablet");
    const auto by = [&](const model::Person& who, const std::string& digits) {
        return text_of(t.store.set_pin(kCrew, kCrewPin, store::PinWitness{who, digits}, at(1), kCheap));
    };
    CHECK(by(kCrew, kCrewPin) == "the PIN of P-003: a first PIN is confirmed by another person; let somebody "
                                 "confirm who has a PIN on this tablet");
    CHECK(by(kMate, kCrewPin) ==
          "the witness's PIN: the witness has no PIN on this tablet; ask somebody who has one");
    CHECK(by(kLead, "111222") == "the witness's PIN: it is wrong; 1 wrong try; try again");
    CHECK(t.store.people_with_pin() == std::vector<std::string>{"P-016"});
    CHECK(by(kLead, kLeadPin).empty());
    CHECK(t.store.people_with_pin() == std::vector<std::string>{"P-003", "P-016"});

    SECTION("a PIN is changed with the PIN so far, or by a lead, not by anybody else") {
        CHECK(text_of(t.store.set_pin(kMate, "904417", store::PinWitness{kCrew, kCrewPin}, at(2), kCheap))
                  .empty());
        const auto change = [&](const std::string& fresh, const std::optional<store::PinWitness>& witness) {
            return text_of(t.store.set_pin(kCrew, fresh, witness, at(3), kCheap));
        };
        CHECK(change("550918", {}) ==
              "the PIN of P-003: nobody confirms it; confirm with the PIN so far, or let a lead confirm");
        CHECK(
            change("550918", store::PinWitness{kMate, "904417"}) ==
            "the PIN of P-003: another person can change it only as a lead; confirm with the PIN so far, or "
            "let a lead confirm");
        CHECK(change("550918", store::PinWitness{kCrew, kCrewPin}).empty());
        CHECK(change("661029", store::PinWitness{kLead, kLeadPin}).empty());
        CHECK(t.store.try_pin("P-003", "661029", at(4)).value().answer == PinAnswer::Right);
        CHECK(t.store.try_pin("P-003", "550918", at(4)).value().answer == PinAnswer::Wrong);
    }
    SECTION("a witness's wrong tries make the witness wait") {
        (void)by(kLead, "111222");
        CHECK(by(kLead, "111222") == "the witness's PIN: it is wrong; 2 wrong tries in a row; try again");
        CHECK(by(kLead, "111222") ==
              "the witness's PIN: it is wrong; 3 wrong tries in a row; wait 5 s, then try again");
        CHECK(by(kLead, kLeadPin) ==
              "the witness's PIN: it is not looked at before 5 s have passed; wait, then try again");
    }
}

TEST_CASE("a thousand wrong tries: no entry, a growing wait, a clear answer each time") {
    Tablet tablet;
    double now = 100.0;
    double waited = 0.0;
    for (int i = 1; i <= 1'000; ++i) {
        const PinTry wrong = tablet.tried("111222", at(now));
        REQUIRE(wrong == PinTry{PinAnswer::Wrong, i, store::pin_wait_after(i)});
        if (wrong.wait_s > 0.0) {
            // The right one too is refused until the wait is over, and that costs no try.
            REQUIRE(tablet.tried(kCrewPin, at(now + wrong.wait_s - 0.01)).answer == PinAnswer::Wait);
        }
        CHECK(wrong.wait_s >= waited);
        waited = wrong.wait_s;
        now += wrong.wait_s;
    }
    CHECK(waited == 900.0);
    CHECK(now > 10.0 * 86'400);
    CHECK(tablet.t.store.visits().empty());
    CHECK(tablet.tried(kCrewPin, at(now)) == PinTry{PinAnswer::Right, 0, 0.0});
    CHECK(tablet.tried("111222", at(now)) == PinTry{PinAnswer::Wrong, 1, 0.0});
    {
        const store::Store closing = std::move(tablet.t.store);
    }
    CHECK(rows_in(tablet.t.path, "entry") == 0);
}

TEST_CASE("no clock and no restart shortens a wait") {
    Tablet tablet;
    for (int i = 0; i < 5; ++i) {
        CHECK(tablet.tried("111222", at(1'000 + 60 * i)).answer == PinAnswer::Wrong);
    }
    REQUIRE(tablet.t.store.look_at_pin(kCrew.id, at(1'240)) == PinTry{PinAnswer::Wait, 5, 20.0});
    constexpr std::int64_t kYearMs = 366LL * 86'400'000;
    CHECK(tablet.tried(kCrewPin, at(1'245, 1'795'590'000'000 + kYearMs)).wait_s == 15.0);
    CHECK(tablet.tried(kCrewPin, at(1'245, 1'795'590'000'000 - kYearMs)).wait_s == 15.0);
    SECTION("the program starts again") {
        tablet.t.reopen();
        CHECK(tablet.tried(kCrewPin, at(1'250, 1'795'590'000'000 + kYearMs)).wait_s == 10.0);
    }
    SECTION("the tablet starts again: the wait counts from its start") {
        tablet.t.reopen();
        CHECK(tablet.tried(kCrewPin, at(4)).wait_s == 16.0);
        CHECK(tablet.tried(kCrewPin, at(19)).wait_s == 1.0);
        // What the clock said before the start no longer counts.
        CHECK(tablet.tried(kCrewPin, at(1'241)).answer == PinAnswer::Right);
    }
    CHECK(tablet.tried(kCrewPin, at(1'260)).answer == PinAnswer::Right);
}

TEST_CASE("a reading that no clock gives is refused and costs no try") {
    Tablet tablet;
    for (const double reading : {-1.0, std::nan(""), std::numeric_limits<double>::infinity(), 1e300}) {
        const auto answer = tablet.t.store.try_pin(kCrew.id, kCrewPin, at(reading));
        CHECK_FALSE(answer.ok());
        CHECK_FALSE(
            tablet.t.store.set_pin(kMate, "904417", store::PinWitness{kLead, kLeadPin}, at(reading), kCheap)
                .ok());
    }
    CHECK(tablet.t.store.look_at_pin(kCrew.id, at(100)) == PinTry{PinAnswer::Wait, 0, 0.0});
    CHECK(tablet.t.store.try_pin("P-999", kCrewPin, at(100)).value().answer == PinAnswer::NoPin);
    CHECK(store::seconds_since_boot() > 0.0);
}

TEST_CASE("killed between the count and the answer, the try has been counted") {
    Tablet tablet;
    {
        const store::Store closing = std::move(tablet.t.store);
    }
    for (int i = 1; i <= 4; ++i) {
        const pid_t child = ::fork();
        if (child == 0) {
            store::Database database(tablet.t.path, store::Database::Make::No);
            store::apply_settings(database);
            (void)store::count_pin_try(database, kCrew.id, at(100.0 * i));
            ::kill(::getpid(), SIGKILL);
        }
        int status = 0;
        REQUIRE(::waitpid(child, &status, 0) == child);
        REQUIRE(WIFSIGNALED(status));
    }
    tablet.t.store = std::move(store::Store::open(tablet.t.path)).value();
    CHECK(tablet.tried(kCrewPin, at(401)) == PinTry{PinAnswer::Wait, 4, 9.0});
    CHECK(tablet.tried(kCrewPin, at(410)).answer == PinAnswer::Right);
}

TEST_CASE("the count is on the disk while the PIN is still being looked at") {
    Tablet tablet;
    {
        const store::Store closing = std::move(tablet.t.store);
    }
    {
        // A hash of so many passes that looking at a PIN takes days.
        store::Database database(tablet.t.path, store::Database::Make::No);
        store::apply_settings(database);
        database.run("UPDATE pin SET hash = '$argon2id$v=19$m=8192,t=10000000,p=1$Zml4ZWRzYWx0Zml4ZWRzYQ$"
                     "rvj2HHVvqScaYpuVKvKQdqDBAOyoG+F8ylo+t1HlY78' WHERE person = 'P-003'");
    }
    const std::string log = tablet.t.path + "-wal";
    REQUIRE(store::size_of(log) == 0);
    const pid_t child = ::fork();
    if (child == 0) {
        store::Database database(tablet.t.path, store::Database::Make::No);
        store::apply_settings(database);
        (void)store::try_pin(database, kCrew.id, kCrewPin, at(100));
        ::_exit(0);
    }
    // The log's head, and one page with its head (SQLite, "WAL file format").
    constexpr std::uint64_t kOnePage = 32 + 24 + 4'096;
    int looks = 0;
    while (store::size_of(log) < kOnePage && looks < 6'000) {
        ::poll(nullptr, 0, 10);
        ++looks;
    }
    ::kill(child, SIGKILL);
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    REQUIRE(WIFSIGNALED(status));
    tablet.t.store = std::move(store::Store::open(tablet.t.path)).value();
    CHECK(tablet.t.store.look_at_pin(kCrew.id, at(101)) == PinTry{PinAnswer::Wait, 1, 0.0});
}

TEST_CASE("neither the file nor its log holds a PIN") {
    Tablet tablet;
    (void)tablet.tried("904417", at(100));
    for (const char* tail : {"", "-wal"}) {
        const std::string bytes = tests::read_file(tablet.t.path + tail);
        for (const std::string& digits : {kLeadPin, kCrewPin, std::string("904417")}) {
            CHECK(bytes.find(digits) == std::string::npos);
        }
    }
}

TEST_CASE("a store of the first schema is opened, and people can have PINs in it") {
    tests::TempStore t;
    const std::string old = t.folder.file("old.store");
    const std::string device = "0199aabb-ccdd-7eef-8011-223344556677";
    {
        store::Database database(old, store::Database::Make::Yes);
        database.run("PRAGMA application_id=" + std::to_string(store::kApplicationId));
        store::apply_settings(database);
        store::migrate(database, {store::migrations().front()});
        store::make_rebuilt_tables(database);
        database.run("INSERT INTO tablet (one, device) VALUES (1, '" + device + "')");
        REQUIRE(database.number("PRAGMA user_version") == 1);
    }
    auto opened = store::Store::open(old);
    INFO((opened ? "" : model::to_text(opened.problem())));
    REQUIRE(opened.ok());
    t.store = std::move(opened).value();
    CHECK(t.store.device() == device);
    CHECK(t.store.people_with_pin().empty());
    CHECK(text_of(t.store.set_pin(kLead, kLeadPin, {}, at(1), kCheap)).empty());
    CHECK(t.store.try_pin(kLead.id, kLeadPin, at(2)).value().answer == PinAnswer::Right);
}
