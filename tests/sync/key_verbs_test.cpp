// Keys at the office: enrolled after comparing, revoked, changed; receipts and day packs under them.
#include "sync/office/command.hpp"

#include "sync/bundle/day_pack.hpp"
#include "sync/bundle/enrolment.hpp"
#include "sync/bundle/receipt.hpp"
#include "sync/office/office_keys.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/temp_store.hpp"
#include "tests/support/test_keys.hpp"

#include <filesystem>
#include <sys/stat.h>

using namespace crossarm;

namespace {

constexpr model::Timestamp kNow{1'773'500'000'000, 60};
const std::string kDevice = tests::sample_device(1);

struct Desk {
    tests::TempFolder folder;
    std::string in = folder.file("in");
    std::string store = folder.file("office.store");
    std::string enrolment = folder.file("enrolment.json");
    seal::KeyPair key = tests::key_of(kDevice);

    Desk() {
        std::filesystem::create_directory(in);
        tests::write_file(enrolment, bundle::write_enrolment({kDevice, 1, kNow}, key).bytes);
    }
    [[nodiscard]] office::Ending run(std::vector<std::string> words, model::Timestamp now = kNow) const {
        words.insert(words.end(), {"--store", store});
        return office::run_command(words, now);
    }
    [[nodiscard]] office::Ending enrol(const std::string& digits) const {
        return run({"enrol", enrolment, "--fingerprint", digits, "--by", "P-001"});
    }
    [[nodiscard]] std::string digits() const { return seal::fingerprint(key.public_key()); }
    void put(unsigned seed, std::int64_t seq, const std::string& prev) const {
        tests::write_file(in + "/" + std::to_string(seed) + ".json",
                          bundle::write_bundle(tests::sample_bundle(seed, kDevice, seq, prev), key).bytes);
    }
    /// The public keys that the office seals with, as a tablet pins them.
    [[nodiscard]] seal::KeyRing office_ring() const {
        const auto office = office::OfficeStore::open(store, office::OfficeStore::Make::No);
        const auto keys = office::office_keys_made(*office);
        seal::KeyRing ring;
        for (const seal::PublicKey& public_key : *keys) {
            ring.add({public_key, {seal::Owner::Kind::Office, ""}});
        }
        return ring;
    }
    [[nodiscard]] model::Receipt receipt() const {
        const std::string out = folder.file("receipt.json");
        const auto ending = run({"receipt", kDevice, "--office", "Tollgate depot", "--out", out});
        INFO(ending.err);
        REQUIRE(ending.code == 0);
        const auto read = bundle::read_receipt(tests::read_file(out), "r", office_ring());
        INFO((read ? "" : model::to_text(read.problem())));
        REQUIRE(read.ok());
        return read->receipt;
    }
};

} // namespace

TEST_CASE("a tablet is pinned only when the digits typed are those of its key") {
    const Desk desk;
    const auto wrong = desk.enrol("00000 00000 00000 00000 00000");
    CHECK(wrong.code == 1);
    CHECK(wrong.err.find("nothing was pinned") != std::string::npos);
    CHECK(wrong.err.find(desk.digits()) == std::string::npos); // what is right has to come from the tablet
    CHECK(desk.enrol(desk.digits()).code == 0);
    CHECK(desk.enrol(desk.digits()).code == 0); // again: nothing new
    const auto listed = desk.run({"tablets"});
    CHECK(listed.out == kDevice + "  life 1  " + desk.digits() +
                            "  enrolled 2026-03-14T15:53:20.000+01:00 by "
                            "P-001\n");
    CHECK(desk.run({"verify", desk.enrolment}).code == 0);
}

TEST_CASE("a second key for the same life of a tablet is not pinned") {
    Desk desk;
    REQUIRE(desk.enrol(desk.digits()).code == 0);
    desk.key = tests::key_named("somebody else");
    tests::write_file(desk.enrolment, bundle::write_enrolment({kDevice, 1, kNow}, desk.key).bytes);
    CHECK(desk.enrol(desk.digits()).code == 1);
    tests::write_file(desk.enrolment, bundle::write_enrolment({kDevice, 2, kNow}, desk.key).bytes);
    CHECK(desk.enrol(desk.digits()).code == 0); // a new life may
}

TEST_CASE("what an unknown tablet brings is held back until it is enrolled, and then taken") {
    const Desk desk;
    desk.put(1, 1, "");
    CHECK(desk.run({"intake", desk.in}).code == 1);
    REQUIRE(desk.enrol(desk.digits()).code == 0);
    CHECK(desk.run({"intake", "--again"}).code == 0);
    CHECK(desk.receipt().have.size() == 1);
}

TEST_CASE("what a revoked tablet brings from then on is held back; what was taken stays") {
    const Desk desk;
    REQUIRE(desk.enrol(desk.digits()).code == 0);
    desk.put(1, 1, "");
    REQUIRE(desk.run({"intake", desk.in}).code == 0);
    const auto revoked =
        desk.run({"revoke", kDevice, "--from", "2026-03-15T00:00:00Z", "--reason", "left on a bus"});
    CHECK(revoked.code == 0);
    CHECK(desk.run({"revoke", "nobody", "--from", "2026-03-15T00:00:00Z", "--reason", "x"}).code == 1);
    desk.put(2, 2, std::string(64, 'a'));
    CHECK(desk.run({"intake", desk.in}).code == 0); // the day has not come
    desk.put(3, 3, std::string(64, 'b'));
    const auto late = desk.run({"intake", desk.in}, {kNow.utc_ms + 86'400'000, 0});
    CHECK(late.code == 1);
    CHECK((late.out + late.err).find("is revoked from 2026-03-15T00:00:00.000Z on") != std::string::npos);
    CHECK(desk.run({"tablets"}).out.find("REVOKED from 2026-03-15T00:00:00.000Z: left on a bus") !=
          std::string::npos);
    CHECK(desk.run({"show", "--all"}).code != 1);
}

TEST_CASE("a receipt lists what is held, how far it is complete, what is missing and what is held back") {
    const Desk desk;
    REQUIRE(desk.enrol(desk.digits()).code == 0);
    const auto first = bundle::write_bundle(tests::sample_bundle(1, kDevice, 1, ""), desk.key);
    const auto second = bundle::write_bundle(tests::sample_bundle(2, kDevice, 2, first.digest), desk.key);
    const auto fork = bundle::write_bundle(tests::sample_bundle(3, kDevice, 2, first.digest), desk.key);
    const auto fifth =
        bundle::write_bundle(tests::sample_bundle(5, kDevice, 5, std::string(64, 'd')), desk.key);
    bundle::Bundle unsigned_visit = tests::sample_bundle(6, kDevice, 6, fifth.digest);
    unsigned_visit.entries.pop_back();
    const auto bad = bundle::write_bundle(unsigned_visit, desk.key);
    int number = 0;
    for (const auto* sealed : {&first, &second, &fork, &fifth, &bad}) {
        tests::write_file(desk.in + "/" + std::to_string(number++) + ".json", sealed->bytes);
    }
    REQUIRE(desk.run({"intake", desk.in}).code == 1);
    const model::Receipt receipt = desk.receipt();
    CHECK(receipt.device == kDevice);
    CHECK(receipt.count == 1);
    REQUIRE(receipt.have.size() == 4);
    CHECK(receipt.have[0] == model::NumberedDigest{1, 1, first.digest});
    REQUIRE(receipt.complete_up_to);
    CHECK(receipt.complete_up_to->seq == 2);
    CHECK(receipt.complete_up_to->digest == std::min(second.digest, fork.digest));
    CHECK(receipt.gaps == std::vector{model::NumberedDigest{4, 1, std::string(64, 'd')}});
    CHECK(receipt.forks == std::vector<std::int64_t>{2});
    REQUIRE(receipt.held_back.size() == 1);
    CHECK(receipt.held_back[0] == model::HeldBackFile{bad.digest, "nobody has signed the visit"});
    const model::Receipt next = desk.receipt();
    CHECK(next.count == 2);
    CHECK(next.epoch == receipt.epoch);
}

TEST_CASE("a day pack brings the receipts and the office's key; after a change the old key vouches for it") {
    const Desk desk;
    REQUIRE(desk.enrol(desk.digits()).code == 0);
    const std::string out = desk.folder.file("pack.json");
    const auto pack = [&] {
        REQUIRE(desk.run({"pack", "--register",
                          std::string(CROSSARM_TEST_DATA) + "/accept/register/two_structures.csv", "--number",
                          "12", "--office", "Tollgate depot", "--at", "2026-03-14T06:00:00Z", "--out", out})
                    .code == 0);
        return tests::read_file(out);
    };
    const std::string first = pack();
    const auto read = bundle::read_day_pack(first, "p", desk.office_ring());
    INFO((read ? "" : model::to_text(read.problem())));
    REQUIRE(read.ok());
    REQUIRE(read->receipts.size() == 1);
    CHECK(bundle::read_receipt(read->receipts[0], "r", desk.office_ring()).ok());
    const auto introduced = seal::open_introduced(first, "p", seal::Kind::DayPack);
    REQUIRE(introduced.ok());
    CHECK(desk.run({"key"}).out.find(seal::fingerprint(*introduced->seal.key)) != std::string::npos);
    CHECK_FALSE(introduced->seal.vouch);

    const seal::KeyRing pinned = desk.office_ring();
    REQUIRE(desk.run({"key", "--change"}).code == 0);
    const std::string second = pack();
    CHECK_FALSE(bundle::read_day_pack(second, "p", pinned).ok());
    const auto changed = seal::open_introduced(second, "p", seal::Kind::DayPack);
    REQUIRE(changed.ok());
    CHECK(changed->seal.by != introduced->seal.by);
    CHECK(seal::is_vouched(changed->seal, pinned));
    CHECK(desk.run({"verify", out}).code == 0);
    // Without the store a file is only whole or not, and the line says so.
    const auto whole = office::run_command({"verify", out}, kNow);
    CHECK(whole.code == 0);
    CHECK(whole.out.find("give --store to check whose key that is") != std::string::npos);
}

TEST_CASE("the office store holds a secret key, and nobody else may read it") {
    const Desk desk;
    REQUIRE(desk.run({"key"}).code == 0);
    struct stat about{};
    REQUIRE(::stat(desk.store.c_str(), &about) == 0);
    CHECK((about.st_mode & 0777U) == 0600);
}
