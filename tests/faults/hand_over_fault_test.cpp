// A hand-over is cut at every write, sync and new name: what stands under its final name is whole, and the
// same call goes on where it stopped.
#include "sync/bundle/hand_over.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/faulty_files.hpp"
#include "tests/support/office_desk.hpp"

#include <cerrno>
#include <cstring>
#include <iostream>

using namespace crossarm;
using tests::FaultyFiles;

namespace {

namespace fs = std::filesystem;

std::vector<bundle::Sealed> some_bundles() {
    std::vector<bundle::Sealed> out;
    for (unsigned i = 1; i <= 3; ++i) {
        out.push_back(tests::sealed_sample(i));
    }
    return out;
}

std::vector<bundle::Outgoing> outgoing(const std::vector<bundle::Sealed>& bundles) {
    std::vector<bundle::Outgoing> out;
    for (const bundle::Sealed& one : bundles) {
        out.push_back({tests::sample_device(1), 1, static_cast<std::int64_t>(out.size()) + 1, one.digest,
                       [&one] { return model::Result(one.bytes); }});
    }
    return out;
}

/// Every file under a final name is one of the bundles, whole.
std::size_t check_whole(const std::string& folder, const std::vector<bundle::Outgoing>& items) {
    std::size_t there = 0;
    for (const bundle::Outgoing& item : items) {
        const std::string path = folder + "/" + bundle::file_name(item);
        if (fs::exists(path)) {
            CHECK(tests::read_file(path) == *item.bytes());
            ++there;
        }
    }
    for (const auto& file : fs::directory_iterator(folder)) {
        const std::string name = file.path().filename().string();
        CHECK((name.ends_with(".json") || name.ends_with(".part")));
    }
    return there;
}

} // namespace

TEST_CASE("a hand-over that fails at any operation leaves no half bundle, says why, and goes on later") {
    const auto bundles = some_bundles();
    const auto items = outgoing(bundles);
    struct Kind {
        const char* name;
        int error;
        FaultyFiles::Fails fails;
        bool power;
        const char* remedy;
    };
    const std::vector<Kind> kinds = {
        {"full", ENOSPC, FaultyFiles::Fails::Forever, false, "make room there, or choose another place"},
        {"pulled out", EIO, FaultyFiles::Fails::Forever, false,
         "the medium was pulled out or is faulty: put it back in or take another one, then try again"},
        {"fails once", EIO, FaultyFiles::Fails::Once, false, ""},
        {"power cut", EIO, FaultyFiles::Fails::Forever, true, ""},
    };
    for (const Kind& kind : kinds) {
        int places = 0;
        for (std::int64_t n = 1;; ++n) {
            INFO(kind.name << " at operation " << n);
            const tests::TempFolder folder;
            FaultyFiles files;
            std::mt19937 dice(static_cast<std::uint32_t>(n));
            std::vector<std::string> told;
            const auto arrived = [&](const bundle::Outgoing& one, const std::string& path) {
                CHECK(tests::read_file(path) == *one.bytes());
                told.push_back(path);
                return model::Done();
            };
            files.fail(n, kind.error, kind.fails);
            const auto first = bundle::hand_over(items, folder.path(), arrived);
            const bool failed = files.has_failed();
            if (kind.power) {
                files.power_comes_back(dice);
            }
            files.heal();
            // What was told to have arrived is there, also after a power cut.
            for (const std::string& path : told) {
                CHECK(fs::exists(path));
            }
            CHECK(check_whole(folder.path(), items) >= first.written);
            if (!failed) {
                CHECK_FALSE(first.stopped.has_value());
                CHECK(first.written == items.size());
                break;
            }
            ++places;
            if (first.stopped && *kind.remedy != '\0') {
                CHECK(first.stopped->remedy == kind.remedy);
                CHECK(first.stopped->what.find(std::strerror(kind.error)) != std::string::npos);
            }
            CHECK(first.written + first.left == items.size());
            const auto second = bundle::hand_over(items, folder.path(), arrived);
            CHECK_FALSE(second.stopped.has_value());
            CHECK(second.there_already >= first.written);
            CHECK(check_whole(folder.path(), items) == items.size());
        }
        std::cout << "hand-over " << kind.name << ": " << places << " places, no half bundle\n";
        CHECK(places >= 12);
    }
}

TEST_CASE("one file with all bundles is there whole or not at all, whatever fails") {
    const auto bundles = some_bundles();
    const auto items = outgoing(bundles);
    std::string whole;
    for (const auto& one : bundles) {
        whole += one.bytes + "\n";
    }
    for (std::int64_t n = 1;; ++n) {
        INFO("operation " << n);
        const tests::TempFolder folder;
        FaultyFiles files;
        std::mt19937 dice(static_cast<std::uint32_t>(n));
        files.fail(n, EIO, FaultyFiles::Fails::Forever);
        const auto done = bundle::hand_over_in_one(items, folder.file("round.jsonl"));
        const bool failed = files.has_failed();
        files.power_comes_back(dice);
        if (fs::exists(folder.file("round.jsonl"))) {
            CHECK(tests::read_file(folder.file("round.jsonl")) == whole);
        } else {
            CHECK_FALSE(done.ok());
        }
        if (!failed) {
            CHECK(done.ok());
            break;
        }
        CHECK_FALSE(done.ok());
    }
}

TEST_CASE("a folder that is not there is told in words about the stick") {
    const auto bundles = some_bundles();
    const auto out = bundle::hand_over(outgoing(bundles), "/nowhere/stick",
                                       [](const auto&, const auto&) { return model::Done(); });
    REQUIRE(out.stopped.has_value());
    CHECK(model::to_text(*out.stopped) ==
          "/nowhere/stick: the folder is not there; put the stick in and wait until it is ready, or choose "
          "another folder");
    CHECK(out.left == 3);
}
