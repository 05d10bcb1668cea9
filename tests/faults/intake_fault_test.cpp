// An intake is cut at every operation of the store's disk and of the files: afterwards the same intake brings
// the office to where it would have been.
#include "sync/office/intake.hpp"

#include "sync/office/dump.hpp"
#include "sync/office/held_back.hpp"
#include "tests/faults/faulty_disk.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/faulty_files.hpp"
#include "tests/support/office_desk.hpp"

#include <cerrno>
#include <iostream>

using namespace crossarm;
using tests::FaultyDisk;
using tests::FaultyFiles;
using tests::OfficeDesk;

namespace {

namespace fs = std::filesystem;

/// Two bundles, and one that is held back.
void lay_out(const OfficeDesk& desk) {
    desk.put("a.json", tests::sealed_sample(1).bytes);
    desk.put("b.json", tests::sealed_sample(2).bytes.substr(0, 900));
    desk.put("c.json", tests::sealed_sample(3).bytes);
}

/// A store that knows the tablets, as the files it consists of.
struct Prepared {
    std::string store, head;
    Prepared() {
        const OfficeDesk desk;
        {
            const auto store_ = desk.open();
        }
        store = tests::read_file(desk.path);
        head = tests::read_file(desk.path + ".head");
    }
    void put(const OfficeDesk& desk) const {
        tests::write_file(desk.path, store);
        tests::write_file(desk.path + ".head", head);
    }
};

model::Done work(const OfficeDesk& desk) {
    auto store = office::OfficeStore::open(desk.path, office::OfficeStore::Make::Yes);
    if (!store) {
        return store.problem();
    }
    const auto intake = office::take_in(*store, desk.in, tests::kOfficeNow, {true, nullptr});
    return intake ? model::Done() : model::Done(intake.problem());
}

std::string dump_of(const OfficeDesk& desk) {
    const auto store = office::OfficeStore::open(desk.path, office::OfficeStore::Make::No);
    INFO((store ? "" : model::to_text(store.problem())));
    REQUIRE(store.ok());
    const auto text = office::dump(*store);
    INFO((text ? "" : model::to_text(text.problem())));
    REQUIRE(text.ok());
    return *text;
}

/// The intake once more, on a sound disk: all is where it belongs.
void check_repeated(const OfficeDesk& desk, const std::string& expected) {
    (void)dump_of(desk); // whatever is there is whole
    const auto again = work(desk);
    INFO((again ? "" : model::to_text(again.problem())));
    REQUIRE(again.ok());
    REQUIRE(dump_of(desk) == expected);
    const auto held = office::HeldBack(desk.path).list();
    REQUIRE(held.ok());
    REQUIRE(held->size() == 1);
    REQUIRE((*held)[0].reason.has_value());
    REQUIRE(tests::read_file((*held)[0].copy) == tests::sealed_sample(2).bytes.substr(0, 900));
    REQUIRE(fs::exists(desk.in + "/b.json"));
    REQUIRE_FALSE(fs::exists(desk.in + "/a.json"));
    REQUIRE_FALSE(fs::exists(desk.in + "/c.json"));
}

std::string expected_dump(const Prepared& prepared) {
    const OfficeDesk desk;
    prepared.put(desk);
    lay_out(desk);
    REQUIRE(work(desk).ok());
    return dump_of(desk);
}

} // namespace

TEST_CASE("a power cut at any operation of an intake is only a repeat") {
    const Prepared prepared;
    const std::string expected = expected_dump(prepared);
    FaultyDisk disk;
    int places = 0;
    for (std::int64_t n = 1;; ++n) {
        INFO("operation " << n);
        const OfficeDesk desk;
        prepared.put(desk);
        lay_out(desk);
        std::mt19937 dice(static_cast<std::uint32_t>(n));
        FaultyFiles files;
        files.together_with([&] { return disk.has_failed(); });
        disk.cut_power_at(n);
        const auto first = work(desk);
        const bool failed = disk.has_failed();
        disk.power_comes_back(dice, /*torn=*/n % 2 == 0);
        files.power_comes_back(dice);
        check_repeated(desk, expected);
        if (!failed) {
            CHECK(first.ok());
            break;
        }
        ++places;
    }
    std::cout << "intake, power cut: " << places << " places, nothing lost, nothing twice\n";
    CHECK(places > 40);
}

TEST_CASE("a power cut at any write of the held-back copies is only a repeat") {
    const Prepared prepared;
    const std::string expected = expected_dump(prepared);
    int places = 0;
    for (std::int64_t n = 1;; ++n) {
        INFO("operation " << n);
        const OfficeDesk desk;
        prepared.put(desk);
        lay_out(desk);
        std::mt19937 dice(static_cast<std::uint32_t>(n));
        FaultyFiles files;
        files.fail(n, EIO, FaultyFiles::Fails::Forever);
        (void)work(desk);
        const bool failed = files.has_failed();
        files.power_comes_back(dice);
        check_repeated(desk, expected);
        if (!failed) {
            break;
        }
        ++places;
    }
    CHECK(places >= 8);
}

TEST_CASE("a full or failing disk at any operation of an intake is told, and the intake can be repeated") {
    struct Kind {
        const char* name;
        int code;
        FaultyDisk::Fails fails;
        FaultyDisk::What what;
        const char* said;
    };
    const std::vector<Kind> kinds = {
        {"full", SQLITE_FULL, FaultyDisk::Fails::Forever, FaultyDisk::What::Writes, "the disk is full"},
        {"fails once", SQLITE_IOERR, FaultyDisk::Fails::Once, FaultyDisk::What::Anything, ""},
        {"fails for ever", SQLITE_IOERR, FaultyDisk::Fails::Forever, FaultyDisk::What::Anything, ""},
    };
    const Prepared prepared;
    const std::string expected = expected_dump(prepared);
    FaultyDisk disk;
    for (const Kind& kind : kinds) {
        int places = 0;
        int named = 0;
        for (std::int64_t n = 1;; ++n) {
            INFO(kind.name << " at operation " << n);
            const OfficeDesk desk;
            prepared.put(desk);
            lay_out(desk);
            disk.fail(n, kind.code, kind.fails, kind.what);
            const auto first = work(desk);
            const bool failed = disk.has_failed();
            disk.heal();
            if (!first) {
                CHECK(first.problem().where == desk.path);
                CHECK_FALSE(first.problem().remedy.empty());
                named += first.problem().what == kind.said ? 1 : 0;
            }
            check_repeated(desk, expected);
            if (!failed) {
                CHECK(first.ok());
                break;
            }
            ++places;
        }
        std::cout << "intake, disk " << kind.name << ": " << places << " places, nothing lost\n";
        CHECK(places > 20);
        CHECK((*kind.said == '\0' || named > 10));
    }
}
