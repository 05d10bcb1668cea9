#include "sync/office/intake.hpp"

#include "checklist/model/digest.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/office/dump.hpp"
#include "sync/office/intake_text.hpp"
#include "sync/office/office_schema.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/office_desk.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <random>

using namespace crossarm;
using office::Line;
using office::OfficeStore;
using tests::kOfficeNow;
using tests::OfficeDesk;

namespace {

std::string dump_of(const OfficeStore& store) {
    const auto content = office::dump(store);
    REQUIRE(content.ok());
    return *content;
}

/// `count` bundles of three tablets, each naming the one before it.
std::vector<bundle::Sealed> bundles_of_three_tablets(unsigned count) {
    std::vector<bundle::Sealed> out;
    std::vector<std::string> prev(3);
    for (unsigned i = 0; i < count; ++i) {
        const unsigned tablet = i % 3U;
        out.push_back(tests::sealed(
            tests::sample_bundle(100U + i, tests::sample_device(tablet), 1 + i / 3U, prev[tablet])));
        prev[tablet] = out.back().digest;
    }
    return out;
}

} // namespace

TEST_CASE("a bundle is taken once, and later only said to be here already") {
    const OfficeDesk desk;
    const auto sealed = tests::sealed(tests::sample_bundle(1));
    desk.put("a.json", sealed.bytes);
    desk.put("b.json", sealed.bytes);
    OfficeStore store = desk.open();
    const auto first = desk.take_in(store);
    REQUIRE(first.lines.size() == 2);
    CHECK(first.lines[0].kind == Line::Kind::Taken);
    CHECK(first.lines[1].kind == Line::Kind::AlreadyHere);
    CHECK(first.lines[0].digest == sealed.digest);
    CHECK(first.lines[0].structure == "QM-0101");
    const auto second = desk.take_in(store);
    CHECK(second.count(Line::Kind::AlreadyHere) == 2);
    REQUIRE(store.raw(sealed.digest).ok());
    CHECK(*store.raw(sealed.digest) == sealed.bytes);
    CHECK_FALSE(std::filesystem::exists(desk.path + ".held-back"));
}

TEST_CASE("the same 50 bundles in 20 random orders with repeats give the same content, byte for byte") {
    const auto bundles = bundles_of_three_tablets(50);
    std::string expected;
    for (unsigned seed = 0; seed < 20; ++seed) {
        std::mt19937 random(seed);
        std::vector<std::size_t> order;
        for (std::size_t i = 0; i < bundles.size(); ++i) {
            order.insert(order.end(), 1U + random() % 2U, i);
        }
        std::ranges::shuffle(order, random);
        const OfficeDesk desk;
        std::size_t taken = 0;
        for (std::size_t at = 0; at < order.size();) {
            // Several visits to the office, each with some of the files; the store is opened anew each time.
            desk.empty();
            const std::size_t end = std::min(order.size(), at + 1 + random() % 40U);
            for (; at < end; ++at) {
                desk.put(std::to_string(random()) + ".json", bundles[order[at]].bytes);
            }
            OfficeStore store = desk.open();
            const auto intake = desk.take_in(store);
            CHECK(intake.count(Line::Kind::HeldBack) == 0);
            taken += intake.count(Line::Kind::Taken);
        }
        CHECK(taken == bundles.size());
        const OfficeStore store = desk.open();
        const std::string content = dump_of(store);
        CHECK(content.find("\"gap\"") == std::string::npos);
        if (expected.empty()) {
            expected = content;
        }
        INFO("seed " << seed);
        CHECK(model::sha256_hex(content) == model::sha256_hex(expected));
    }
    CHECK(static_cast<std::size_t>(std::ranges::count(expected, '\n')) > 50U * 11U);
}

TEST_CASE("a cut or changed bundle is held back whole with the reason, and nothing of it is taken") {
    const OfficeDesk desk;
    const std::string good = tests::sealed(tests::sample_bundle(3)).bytes;
    OfficeStore store = desk.open();
    const std::string before = dump_of(store);
    std::mt19937 random(3);
    std::size_t files = 0;
    for (std::size_t i = 0; i < good.size(); i += 1 + random() % 200U) {
        desk.put("cut-" + std::to_string(i) + ".json", good.substr(0, i));
        std::string flipped = good;
        flipped[i] = static_cast<char>(static_cast<unsigned char>(flipped[i]) ^ (1U << random() % 8U));
        desk.put("flip-" + std::to_string(i) + ".json", flipped);
        files += 2;
    }
    const auto intake = desk.take_in(store);
    CHECK(intake.count(Line::Kind::HeldBack) == files);
    for (const Line& line : intake.lines) {
        REQUIRE(line.why.has_value());
        CHECK(line.why->where.starts_with(line.file + ": "));
        const std::string bytes = tests::read_file(desk.in + "/" + line.file);
        CHECK(line.copy == desk.path + ".held-back/" + model::sha256_hex(bytes) + ".json");
        CHECK(tests::read_file(line.copy) == bytes);
        const auto reason = nlohmann::json::parse(
            tests::read_file(line.copy.substr(0, line.copy.size() - 5) + ".reason.json"));
        CHECK(reason["file"] == line.file);
        CHECK(reason["what"].get<std::string>().size() > 5);
        CHECK(reason["step"] == line.step);
        CHECK((line.step == "seal" || line.step == "key"));
        CHECK(reason["heldAt"] == model::to_text(kOfficeNow));
    }
    CHECK(dump_of(store) == before);
}

TEST_CASE("a file that cannot be read at all is told, the others are taken") {
    const OfficeDesk desk;
    std::filesystem::create_directory(desk.in + "/folder.json");
    std::filesystem::create_symlink("nowhere", desk.in + "/link.json");
    desk.put("good.json", tests::sealed(tests::sample_bundle(1)).bytes);
    desk.put("note.txt", "not looked at");
    OfficeStore store = desk.open();
    const auto intake = desk.take_in(store);
    REQUIRE(intake.lines.size() == 3);
    REQUIRE(intake.lines[0].why.has_value());
    REQUIRE(intake.lines[2].why.has_value());
    CHECK(intake.lines[0].why->what == "is not a regular file");
    CHECK(intake.lines[2].why->what == "cannot be opened: No such file or directory");
    CHECK(intake.lines[2].copy.empty());
    CHECK(intake.lines[1].kind == Line::Kind::Taken);
}

TEST_CASE("an entry that is here already with other content holds the whole bundle back") {
    const OfficeDesk desk;
    const bundle::Bundle first = tests::sample_bundle(5);
    // The same ids in a visit of the same name, written by hand with other readings.
    bundle::Bundle second = first;
    tests::SampleJournal journal(first.visit, first.device, 5);
    journal.add(model::Opened{first.structure.id, first.protocol, first.protocol_digest, 13}, "P-014");
    journal.sign();
    second.entries = journal.texts();
    desk.put("1.json", tests::sealed(first).bytes);
    desk.put("2.json", tests::sealed(second).bytes);
    OfficeStore store = desk.open();
    const auto intake = desk.take_in(store);
    REQUIRE(intake.lines.size() == 2);
    CHECK(intake.lines[0].kind == Line::Kind::Taken);
    CHECK(intake.lines[1].kind == Line::Kind::HeldBack);
    CHECK(intake.lines[1].why->what.ends_with("is in the office store already, with other content"));
    CHECK(store.bundles()->size() == 1);
    CHECK(store.texts(first.visit)->size() == first.entries.size());
}

TEST_CASE("two tablets on one visit come together as the union of their entries") {
    const OfficeDesk desk;
    const bundle::Bundle first = tests::sample_bundle(6, tests::sample_device(1));
    bundle::Bundle second = tests::sample_bundle(6, tests::sample_device(2));
    tests::SampleJournal journal(second.visit, second.device, 7'777);
    journal.add(model::Opened{second.structure.id, second.protocol, second.protocol_digest, 12}, "P-020");
    journal.add(model::Found{{"tank", "tank.leaks", model::Grade::Danger, "", ""}, {}}, "P-020");
    journal.sign();
    second.entries = journal.texts();
    desk.put("1.json", tests::sealed(first).bytes);
    desk.put("2.json", tests::sealed(second).bytes);
    OfficeStore store = desk.open();
    CHECK(desk.take_in(store).count(Line::Kind::Taken) == 2);
    CHECK(store.visits()->size() == 1);
    const auto texts = *store.texts(first.visit);
    CHECK(texts.size() == first.entries.size() + second.entries.size());
    for (const auto& entries : {first.entries, second.entries}) {
        for (const std::string& text : entries) {
            CHECK(std::ranges::find(texts, text) != texts.end());
        }
    }
}

TEST_CASE("a missing bundle is listed as a gap until it comes, two under one number as a fork") {
    const OfficeDesk desk;
    const auto bundles = bundles_of_three_tablets(9); // tablet 0 has the bundles 0, 3 and 6
    desk.put("3.json", bundles[6].bytes);
    desk.put("1.json", bundles[0].bytes);
    OfficeStore store = desk.open();
    const auto first = desk.take_in(store);
    REQUIRE(first.sequence.gaps.size() == 1);
    CHECK(first.sequence.gaps[0] == office::Gap{tests::sample_device(0), 1, 2, bundles[3].digest});
    CHECK(office::intake_text(first).find("gap  bundle 2 of tablet " + tests::sample_device(0) +
                                          " is missing (" + bundles[3].digest.substr(0, 8) +
                                          "): ask for it\n") != std::string::npos);
    desk.put("2.json", bundles[3].bytes);
    CHECK(desk.take_in(store).sequence.gaps.empty());

    // The tablet was put back from a backup and gives number 2 again.
    const auto again =
        tests::sealed(tests::sample_bundle(900, tests::sample_device(0), 2, bundles[0].digest));
    desk.put("4.json", again.bytes);
    const auto last = desk.take_in(store);
    CHECK(last.count(Line::Kind::Taken) == 1);
    REQUIRE(last.sequence.forks.size() == 1);
    CHECK(last.sequence.forks[0].seq == 2);
    CHECK(last.sequence.forks[0].digests.size() == 2);
}

TEST_CASE("a bundle held back once is let go when it is taken after all") {
    const OfficeDesk desk;
    const std::string bytes = tests::sealed(tests::sample_bundle(1)).bytes;
    const std::string stem = desk.path + ".held-back/" + model::sha256_hex(bytes);
    std::filesystem::create_directory(desk.path + ".held-back");
    tests::write_file(stem + ".json", bytes);
    tests::write_file(stem + ".reason.json", "{}");
    desk.put("1.json", bytes);
    OfficeStore store = desk.open();
    CHECK(desk.take_in(store).count(Line::Kind::Taken) == 1);
    CHECK_FALSE(std::filesystem::exists(stem + ".json"));
    CHECK_FALSE(std::filesystem::exists(stem + ".reason.json"));
}

TEST_CASE(
    "the office store refuses a second opener, a strange file and a newer store, and leaves them alone") {
    const OfficeDesk desk;
    const auto refusal = [](const std::string& path) {
        const auto store = OfficeStore::open(path, OfficeStore::Make::Yes);
        return store ? std::string() : model::to_text(store.problem());
    };
    SECTION("held by another") {
        const OfficeStore store = desk.open();
        CHECK(refusal(desk.path) == desk.path +
                                        ": another program holds the office store at this moment; close the "
                                        "other crossarm-office, or wait until it is done");
    }
    SECTION("no database") {
        tests::write_file(desk.path, "id,name\n");
        CHECK(refusal(desk.path) == desk.path +
                                        ": it is not an office store: it is a file of another kind; give the "
                                        "store another name, or move that file away");
        CHECK(tests::read_file(desk.path) == "id,name\n");
    }
    SECTION("a tablet's store") {
        {
            const auto tablet = store::Store::open(desk.path);
        }
        const std::string before = tests::read_file(desk.path);
        CHECK(refusal(desk.path) == desk.path +
                                        ": it is not an office store: it is a database of another program; "
                                        "give the store another name, or move that file away");
        CHECK(tests::read_file(desk.path) == before);
    }
    SECTION("a newer office store") {
        {
            const OfficeStore store = desk.open();
        }
        std::string bytes = tests::read_file(desk.path);
        const std::int64_t newest = office::newest_office_schema();
        bytes[63] = static_cast<char>(
            newest +
            1); // user_version stands at offset 60 of the header, big-endian (SQLite file format, 1.3)
        tests::write_file(desk.path, bytes);
        CHECK(refusal(desk.path) == desk.path + ": it was made by a newer version of this program (schema " +
                                        std::to_string(newest + 1) + ", this one knows up to " +
                                        std::to_string(newest) +
                                        "); open it with the newer version; nothing was changed");
        CHECK(tests::read_file(desk.path) == bytes);
    }
    SECTION("none there, and none to be made") {
        const auto store = OfficeStore::open(desk.path, OfficeStore::Make::No);
        REQUIRE_FALSE(store.ok());
        CHECK(store.problem().what == "the office store cannot be opened");
        CHECK_FALSE(std::filesystem::exists(desk.path));
    }
}
