// A whole uprating visit by finger, the office that takes it in, and the next day pack with the new plate.
#include "sync/office/command.hpp"
#include "sync/office/intake.hpp"
#include "sync/office/office_keys.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/screen_rig.hpp"

using namespace crossarm;
using namespace crossarm::tests;

TEST_CASE("an uprating visit walked by finger reaches the office, and the next day pack has the new plate") {
    ScreenRig rig;
    Answers answers =
        read_answers(read_file(std::string(CROSSARM_SOURCE_DIR) + "/demo/scenario/uprating.csv"));
    VisitWalker walker(rig.finger(), rig.session(), answers, {answers.at("doer"), answers.at("lead")});
    walker.walk(answers.at("structure"));
    CHECK(walker.answered() > 90);
    CHECK(rig.view().protocol().id == "uprating");

    const visit::State& state = rig.view().at_hand->state;
    CHECK(state.protocol == "uprating");
    CHECK(visit::permit::is_closed(state.permit));
    CHECK(state.permit.work == "Exchange of the transformer for a larger one, with its cables and fuses");
    // The load after closing is measured against the new unit: 268 A of 420.0 A (315 kVA at 433 V, I = S/(√3
    // U)).
    const visit::Assessed* load = ui::assessed_at(rig.view(), "restore.load");
    REQUIRE(load != nullptr);
    const auto* verdict = std::get_if<model::Verdict>(&load->outcome);
    REQUIRE(verdict != nullptr);
    CHECK(verdict->grade == model::Grade::Sound);

    const std::string office = rig.folder().file("office.db");
    {
        auto store = office::OfficeStore::open(office, office::OfficeStore::Make::Yes);
        REQUIRE(store.ok());
        const store::Store& tablet = rig.tablet().store();
        REQUIRE(office::pin_tablet(*store, {tablet.device(), tablet.identity().life,
                                            seal::KeyPair::from_seed(tablet.identity().seed).public_key(),
                                            "P-021", rig.now()})
                    .ok());
        const auto taken = office::take_in(*store, rig.bundles(), rig.now());
        REQUIRE(taken.ok());
        REQUIRE(taken->count(office::Line::Kind::Taken) == 1);
    }
    const auto made = office::run_command(
        {"pack", "--register", std::string(CROSSARM_SOURCE_DIR) + "/demo/scenario/register.csv", "--number",
         "2", "--office", "Quillmere Valley Power Cooperative", "--at", "2026-11-26T06:00:00+00:00", "--out",
         rig.folder().file("next.json"), "--store", office},
        rig.now());
    INFO(made.err);
    REQUIRE(made.code == 0);
    CHECK(made.out.find("QM-0110: 315 kVA Norrin Windings, serial NO-26-0417 taken into the day pack") !=
          std::string::npos);
}
