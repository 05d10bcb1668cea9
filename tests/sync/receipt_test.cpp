#include "sync/bundle/receipt.hpp"

#include "checklist/model/canonical.hpp"
#include "sync/bundle/enrolment.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/test_keys.hpp"

#include <nlohmann/json.hpp>

using namespace crossarm;
using nlohmann::json;

namespace {

model::Receipt sample_receipt() {
    model::Receipt receipt;
    receipt.office = "Quillmere Valley Power Cooperative";
    receipt.epoch = std::string(32, 'e');
    receipt.count = 17;
    receipt.device = tests::sample_device(1);
    receipt.at = {1'773'500'000'000, 60};
    receipt.have = {{1, 1, std::string(64, 'a')}, {3, 2, std::string(64, 'b')}};
    receipt.complete_up_to = model::NumberedDigest{1, 1, std::string(64, 'a')};
    receipt.held_back = {{std::string(64, 'c'), "the content does not match its seal"}};
    receipt.gaps = {{2, 1, std::string(64, 'd')}};
    receipt.forks = {3};
    return receipt;
}

std::string what(const std::string& bytes) {
    const auto read = bundle::read_receipt(bytes, "r.json", tests::office_ring());
    return read ? "" : model::to_text(read.problem());
}

std::string with(const char* name, const json& value) {
    json body = json::parse(bundle::write_receipt(sample_receipt(), tests::office_key()).bytes)["body"];
    body[name] = value;
    return seal::wrap_introduced(model::canonical(body), seal::Kind::Receipt, tests::office_key());
}

} // namespace

TEST_CASE("a receipt reads back as it was written") {
    const auto sealed = bundle::write_receipt(sample_receipt(), tests::office_key());
    const auto read = bundle::read_receipt(sealed.bytes, "r.json", tests::office_ring());
    INFO((read ? "" : model::to_text(read.problem())));
    REQUIRE(read.ok());
    CHECK(read->receipt == sample_receipt());
    CHECK(read->digest == sealed.digest);
    model::Receipt least = sample_receipt();
    least.complete_up_to.reset();
    least.have.clear();
    const auto least_read = bundle::read_receipt(bundle::write_receipt(least, tests::office_key()).bytes, "r",
                                                 tests::office_ring());
    REQUIRE(least_read.ok());
    CHECK(least_read->receipt == least);
}

TEST_CASE("a receipt changed in any byte, or sealed by a tablet, is refused") {
    const std::string bytes = bundle::write_receipt(sample_receipt(), tests::office_key()).bytes;
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        std::string changed = bytes;
        changed[i] = static_cast<char>(changed[i] ^ 0x01);
        CHECK_FALSE(what(changed).empty());
        CHECK_FALSE(what(bytes.substr(0, i)).empty());
    }
    const std::string device = tests::sample_device(1);
    const auto forged = bundle::write_receipt(sample_receipt(), tests::key_of(device));
    CHECK(what(forged.bytes).find("is not known here; compare the fingerprint of the office's key") !=
          std::string::npos);
    const auto read = bundle::read_receipt(forged.bytes, "r.json", tests::ring_of(device));
    REQUIRE_FALSE(read.ok());
    CHECK(read.problem().what == "a tablet sealed it, not an office");
}

TEST_CASE("a receipt of another shape is refused with its place") {
    const std::string again = "; ask the office for a new receipt";
    CHECK(what(with("count", 0)) == "r.json: /body/count: it is counted from 1" + again);
    CHECK(what(with("epoch", "E")) == "r.json: /body/epoch: \"E\" is not 32 hexadecimal digits" + again);
    CHECK(what(with("device", "")) == "r.json: /body/device: \"\" is not a tablet's id" + again);
    CHECK(what(with("have", json::array({{{"seq", 1}, {"life", 0}, {"digest", std::string(64, 'a')}}}))) ==
          "r.json: /body/have/0/life: it is counted from 1" + again);
    CHECK(what(with("more", 1)) ==
          "r.json: /body/more: unknown member \"more\"; take it out or correct its name");
}

TEST_CASE("an enrolment proves that its maker holds the key, and says nothing else") {
    const std::string device = tests::sample_device(1);
    const auto key = tests::key_of(device, 2);
    const std::string bytes = bundle::write_enrolment({device, 2, {1'773'500'000'000, 60}}, key).bytes;
    const auto read = bundle::read_enrolment(bytes, "e.json");
    REQUIRE(read.ok());
    CHECK(read->enrolment.device == device);
    CHECK(read->enrolment.life == 2);
    CHECK(read->key == key.public_key());
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        std::string changed = bytes;
        changed[i] = static_cast<char>(changed[i] ^ 0x01);
        CHECK_FALSE(bundle::read_enrolment(changed, "e.json").ok());
    }
    // Another's key in one's own file.
    const std::string other = seal::to_text(tests::key_of("t2").public_key());
    std::string stolen = bytes;
    stolen.replace(stolen.find("\"key\":\"") + 7, other.size(), other);
    CHECK_FALSE(bundle::read_enrolment(stolen, "e.json").ok());
}
