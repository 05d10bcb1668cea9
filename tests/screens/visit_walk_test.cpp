// A whole visit by finger, from the round to the hand-over, and the office that takes the bundle in.
#include "checklist/model/digest.hpp"
#include "checklist/model/strokes.hpp"
#include "sync/bundle/bundle.hpp"
#include "sync/office/intake.hpp"
#include "sync/office/office_keys.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/screen_rig.hpp"

#include <filesystem>
#include <vector>

using namespace crossarm;
using namespace crossarm::tests;

namespace {

constexpr const char* kStructure = "QM-0101";
const WalkPeople kPeople{"P-011", "P-021"};

/// What a restart would find at this moment: the files as they are, opened elsewhere.
std::size_t entries_on_disk(ScreenRig& rig, const model::Id& visit) {
    const tests::TempFolder elsewhere;
    const std::string copy = elsewhere.file("tablet.db");
    for (const char* end : {"", "-wal", ".head"}) {
        if (std::filesystem::exists(rig.store_path() + end)) {
            std::filesystem::copy_file(rig.store_path() + end, copy + end);
        }
    }
    const auto store = store::Store::open(copy);
    INFO((store ? "" : model::to_text(store.problem())));
    REQUIRE(store.ok());
    const auto entries = store->entries(visit);
    REQUIRE(entries.ok());
    return entries->size();
}

/// The key under which this tablet would be enrolled.
office::KnownTablet tablet_of(ScreenRig& rig) {
    const store::Store& store = rig.tablet().store();
    return {store.device(), store.identity().life,
            seal::KeyPair::from_seed(store.identity().seed).public_key(), "P-021", rig.now()};
}

seal::KeyRing ring_of_tablet(ScreenRig& rig) {
    const office::KnownTablet tablet = tablet_of(rig);
    seal::KeyRing ring;
    ring.add({tablet.key, {seal::Owner::Kind::Tablet, tablet.device, tablet.life}});
    return ring;
}

/// Every entry names the hash of the one before it, numbered from 1, all of one visit and one tablet.
void check_chain(const std::vector<std::string>& texts, const model::Id& visit) {
    std::string before;
    std::int64_t seq = 0;
    std::string device;
    for (const std::string& text : texts) {
        const auto entry = model::read_entry(text, "journal");
        REQUIRE(entry.ok());
        CHECK(entry->prev == before);
        CHECK(entry->seq == ++seq);
        CHECK(entry->visit == visit);
        CHECK((device.empty() || entry->device == device));
        device = entry->device;
        before = model::hash_of(text);
    }
}

void check_office(ScreenRig& rig, const model::Id& visit, const std::vector<std::string>& texts) {
    auto office = office::OfficeStore::open(rig.folder().file("office.db"), office::OfficeStore::Make::Yes);
    REQUIRE(office.ok());
    const auto unknown = office::take_in(*office, rig.bundles(), rig.now());
    REQUIRE(unknown.ok());
    CHECK(unknown->count(office::Line::Kind::HeldBack) == 1); // not enrolled yet
    REQUIRE(office::pin_tablet(*office, tablet_of(rig)).ok());
    const auto first = office::take_in(*office, rig.bundles(), rig.now());
    REQUIRE(first.ok());
    REQUIRE(first->lines.size() == 1);
    CHECK(first->count(office::Line::Kind::Taken) == 1);
    CHECK(first->lines[0].structure == kStructure);
    CHECK(first->sequence.gaps.empty());
    CHECK(first->sequence.forks.empty());
    const auto second = office::take_in(*office, rig.bundles(), rig.now());
    REQUIRE(second.ok());
    CHECK(second->count(office::Line::Kind::AlreadyHere) == 1);
    CHECK(second->count(office::Line::Kind::Taken) == 0);
    const auto visits = office->visits();
    REQUIRE(visits.ok());
    CHECK(*visits == std::vector<model::Id>{visit});
    const auto there = office->texts(visit);
    REQUIRE(there.ok());
    CHECK(*there == texts);
}

void walk_and_check(const RigLook& look) {
    ScreenRig rig(look);
    VisitWalker walker(rig.finger(), rig.session(), scenario_answers(), kPeople);
    int not_there = 0;
    walker.after_answer = [&](const std::string&) {
        const ui::AtHand& at_hand = *rig.view().at_hand;
        // The screen says that it is kept only when a restart now would find it.
        not_there += entries_on_disk(rig, at_hand.visit) == at_hand.state.entries ? 0 : 1;
    };
    walker.walk(kStructure);
    CHECK(not_there == 0);
    CHECK(walker.answered() > 90);

    const model::Id visit = rig.view().at_hand->visit;
    const visit::State shown = rig.view().at_hand->state;
    const std::string head = rig.view().at_hand->head;
    const visit::permit::Rules rules = rig.view().at_hand->permit.rules;
    const store::OutboxRow bundle = *rig.view().at_hand->bundle;
    CHECK(bundle.state == store::HandOver::HandedOver);
    CHECK(rig.finger().sees("handed over, not yet confirmed"));

    rig.reopen();
    const auto texts = rig.tablet().store().texts(visit);
    const auto entries = rig.tablet().store().entries(visit);
    REQUIRE(texts.ok());
    REQUIRE(entries.ok());
    check_chain(*texts, visit);
    CHECK(visit::fold(*entries, rules) == shown);
    CHECK(rig.tablet().store().head(visit) == head);

    // The last entry is the lead's signature of the entry before it, and the lead did no work.
    const auto* last = std::get_if<model::Signed>(&entries->back().body);
    REQUIRE(last != nullptr);
    CHECK(last->head == model::hash_of((*texts)[texts->size() - 2]));
    CHECK(entries->back().by == kPeople.lead);
    CHECK(shown.doers.contains(kPeople.doer));
    CHECK(!shown.doers.contains(kPeople.lead));
    CHECK(model::parse_strokes(last->strokes, "signature").ok());
    // The permit went its whole way, in order, by the people who may.
    CHECK(visit::permit::is_closed(shown.permit));
    CHECK(shown.permit.irregular == 0);
    CHECK(shown.permit.cancelled);

    // What was asked is what stands: the answers of the scenario, in their own units.
    const auto value_at = [&](const char* checkpoint) {
        const auto found = shown.answers.find(checkpoint);
        REQUIRE(found != shown.answers.end());
        return found->second.finding.value;
    };
    CHECK(value_at("trees.clearance_hv") == model::Value(model::Quantity{1.2, model::Unit::Metre}));
    CHECK(value_at("hv_bushings.damage") == model::Value(model::Choice{{"chip_edge"}}));
    CHECK(value_at("arrive.position") == model::Value(model::Remark{"Lane side by the weir"}));
    const auto shots = std::get<model::Readings>(value_at("oil.breakdown"));
    REQUIRE(shots.values.size() == 6);
    CHECK(shots.values[2] == model::Quantity{35.8, model::Unit::Kilovolt});
    CHECK(std::holds_alternative<model::OutOfReach>(value_at("hv_jumpers.burnt")));

    // The file, the outbox and the seal are one and the same bytes.
    const auto kept = rig.tablet().store().bundle_of(visit);
    REQUIRE(kept);
    const std::string file = tests::read_file(kept->file);
    CHECK(file == kept->bytes);
    CHECK(kept->digest == bundle.digest);
    const auto read = bundle::read_bundle(file, "bundle", ring_of_tablet(rig));
    INFO((read ? "" : model::to_text(read.problem())));
    REQUIRE(read.ok());
    CHECK(read->digest == bundle.digest);
    CHECK(read->bundle.entries == *texts);
    CHECK(read->entries == *entries);

    check_office(rig, visit, *texts);
}

} // namespace

TEST_CASE("a visit walked by finger reaches the office whole and once") {
    walk_and_check({});
}

TEST_CASE("a visit walked on an upright 8-inch tablet in glove size reaches the office whole and once") {
    walk_and_check({.glass = {800, 1280, 7.43F}, .glove = true});
}
