// Bundles that are not the first closed one of a visit: amendments, and copies of an unfinished visit.
#include "sync/bundle/bundle.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/test_keys.hpp"

using namespace crossarm;

namespace {

const std::string kDevice = tests::sample_device(1);
const seal::KeyPair kKey = tests::key_of(kDevice);
const seal::KeyRing kRing = tests::ring_of(kDevice);

std::string what(const bundle::Bundle& bundle) {
    const auto read = bundle::read_bundle(bundle::write_bundle(bundle, kKey).bytes, "b.json", kRing);
    return read ? "" : read.problem().where + ": " + read.problem().what;
}

/// What was recorded and signed after the visit's first signature: the whole visit, and from where it is new.
struct Amended {
    bundle::Bundle all;
    std::size_t first_new = 0;
};
Amended amended(bool signed_again = true) {
    Amended out{tests::sample_bundle(1), 0};
    out.all.revision = 2;
    out.all.seq = 2;
    out.all.prev = std::string(64, 'a');
    out.first_new = out.all.entries.size();
    const auto add = [&](model::Body body, const std::string& by) {
        model::Entry entry;
        entry.id = tests::sample_id(500 + out.all.entries.size());
        entry.visit = out.all.visit;
        entry.device = kDevice;
        entry.seq = static_cast<std::int64_t>(out.all.entries.size()) + 1;
        entry.at = {1'773'581'327'250, 330};
        entry.by = by;
        entry.body = std::move(body);
        entry.prev = model::hash_of(out.all.entries.back());
        out.all.entries.push_back(model::to_canonical(entry));
    };
    add(model::Found{{"tank", "tank.leaks", model::Grade::Repair, "", ""}, {}}, "P-014");
    if (signed_again) {
        add(model::Signed{model::hash_of(out.all.entries.back()), "Amended"}, "P-003");
    }
    return out;
}

bundle::Bundle only_new(const Amended& from) {
    bundle::Bundle out = from.all;
    out.entries.erase(out.entries.begin(), out.entries.begin() + static_cast<std::ptrdiff_t>(from.first_new));
    return out;
}

} // namespace

TEST_CASE("an amendment may hold the new entries only, or all of them") {
    CHECK(what(amended().all).empty());
    CHECK(what(only_new(amended())).empty());
    const auto read =
        bundle::read_bundle(bundle::write_bundle(only_new(amended()), kKey).bytes, "b.json", kRing);
    REQUIRE(read.ok());
    CHECK(read->bundle.revision == 2);
    CHECK_FALSE(read->bundle.is_open);
    CHECK(read->entries.size() == 2);
    CHECK(bundle::write_bundle(read->bundle, kKey).bytes ==
          bundle::write_bundle(only_new(amended()), kKey).bytes);
}

TEST_CASE("the same entries are no first bundle of a visit") {
    bundle::Bundle first = amended().all;
    first.revision = 1;
    CHECK(what(first).find("something was recorded after the signature") != std::string::npos);
    first = only_new(amended());
    first.revision = 1;
    CHECK(what(first).find("entry 1 of this device is missing") != std::string::npos);
}

TEST_CASE("an amendment is signed again, by someone who did not do it, and its chain is whole") {
    CHECK(what(amended(false).all) == "b.json: /body/entries: nobody has signed the amendment");
    CHECK(what(only_new(amended(false))) == "b.json: /body/entries: nobody has signed the amendment");
    bundle::Bundle gap = amended().all;
    gap.entries.erase(gap.entries.begin() + 4);
    CHECK(what(gap) == "b.json: /body/entries/4/seq: entry 5 of this device is missing: 6 stands here");
    bundle::Bundle broken = only_new(amended());
    model::Entry first = *model::read_entry(broken.entries[0], "");
    first.prev.clear();
    broken.entries[0] = model::to_canonical(first);
    CHECK(what(broken) ==
          "b.json: /body/entries/0/prev: it names no entry before it, and is not this device's first");
}

TEST_CASE("an open bundle holds a visit that is not signed yet, whole as far as it goes") {
    bundle::Bundle open = tests::sample_bundle(1);
    open.is_open = true;
    CHECK(what(open).empty());
    open.entries.resize(5);
    CHECK(what(open).empty());
    const auto read = bundle::read_bundle(bundle::write_bundle(open, kKey).bytes, "b.json", kRing);
    REQUIRE(read.ok());
    CHECK(read->bundle.is_open);
    open.is_open = false;
    CHECK(what(open) == "b.json: /body/entries: nobody has signed the visit");
    open.is_open = true;
    open.entries.erase(open.entries.begin());
    CHECK(what(open).find("entry 1 of this device is missing") != std::string::npos);
}
