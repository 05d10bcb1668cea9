// The safe order: what is locked, what is missing, and what the band says.
#include "tests/support/catch.hpp"
#include "tests/support/paper_visit.hpp"

using namespace crossarm;
using model::Choice;
using model::Grade;
using model::Quantity;
using model::Unit;
using tests::clearing_acts;
using tests::isolating_acts;
using tests::PaperVisit;
namespace acts = crossarm::model::permit;

TEST_CASE("a fresh visit has no grade anywhere and is to be treated as live") {
    PaperVisit visit;
    visit.open();
    const visit::State state = visit.state();
    CHECK(state.answers.empty());
    CHECK_FALSE(visit.in_force());
    for (const model::Part& part : visit.protocol.parts) {
        const auto standing = visit::standing(visit.protocol, visit.structure(), state, {}, part.id);
        CHECK_FALSE(standing.worst.has_value());
        CHECK_FALSE(standing.may_show_sound());
    }
}

TEST_CASE("a later stage is locked until the one before is finished, and says which") {
    PaperVisit visit;
    visit.open();
    CHECK(visit.record("brief.crew", Choice{{"doer", "mate"}}) == "locked.stage");
    CHECK(visit.record("top.damage", Grade::Sound) == "locked.stage");
    visit.arrive();
    CHECK(visit.record("brief.crew", Choice{{"doer", "mate"}}) == "");
}

TEST_CASE("in a read-then-do stage a step waits for the one before it") {
    PaperVisit visit;
    visit.open();
    CHECK(visit.record("arrive.position", model::Remark{"by the weir"}) == "locked.step");
    CHECK(visit.record("arrive.right", Choice{{"no"}}) == "");
    // An answer that stops the stage locks what comes after it as well.
    CHECK(visit.record("arrive.position", model::Remark{"by the weir"}) == "locked.step");
    CHECK(visit.mean(visit::FinishStage{"arrive"}) == "missing.stops");
    CHECK(visit.record("arrive.right", Choice{{"yes"}}) == "");
    CHECK(visit.record("arrive.position", model::Remark{"by the weir"}) == "");
    CHECK(visit.mean(visit::FinishStage{"arrive"}) == "");
}

TEST_CASE("the band is blue only while a party has accepted on earths and everything stays as it was") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.brief();
    const auto why = [&] { return visit.band().reason.key; };
    CHECK(why() == "band.no_permit");
    visit.isolate();
    CHECK_FALSE(visit.in_force());
    CHECK(visit.band().earths_on == 2);
    REQUIRE(visit.issue() == "");
    CHECK_FALSE(visit.in_force());
    CHECK(why() == "band.not_accepted");
    REQUIRE(visit.accept() == "");
    REQUIRE(visit.in_force());
    const visit::Band band = visit.band();
    CHECK(band.kind == visit::Band::Kind::InForce);
    CHECK(band.permit == "QV 7");
    CHECK(band.holders == std::vector<std::string>{"doer"});
    CHECK(band.earths_on == 2);

    SECTION("anybody stops the work; then the top is locked") {
        CHECK(visit.act(acts::Suspended{"", "Thunder"}, "lead") == "");
        CHECK_FALSE(visit.in_force());
        CHECK(why() == "band.suspended");
        CHECK(visit.record("top.damage", Grade::Sound) == "locked.permit");
        CHECK(visit.record("ground.rust", Grade::Sound) == "");
        CHECK_FALSE(visit.state().doers.contains("lead"));
        CHECK(visit.act(acts::Resumed{"A"}, "issuer") == "");
        CHECK_FALSE(visit.in_force());
        CHECK(visit.accept() == "");
        CHECK(visit.in_force());
    }
    SECTION("its time runs out by itself") {
        visit.clock = visit.in_hours(9);
        CHECK_FALSE(visit.in_force());
        CHECK(why() == "band.ran_out");
        CHECK(visit.record("top.damage", Grade::Sound) == "locked.permit");
    }
    SECTION("a clock that was set back is not trusted") {
        visit.clock = visit.in_hours(-2);
        CHECK_FALSE(visit.in_force());
        CHECK(why() == "band.clock");
    }
    SECTION("from the hand-back on the structure is to be treated as live, and the top is locked again") {
        visit.work();
        CHECK(visit.hand_back() == "");
        CHECK_FALSE(visit.in_force());
        CHECK(why() == "band.handed_back");
        CHECK(visit.band().earths_on == 2);
        CHECK(visit.record("top.damage", Grade::Watch) == "locked.permit");
        CHECK(visit.record("ground.rust", Grade::Sound) == "");
        CHECK(visit.mean(visit::UndoLast{}) == ""); // takes the rust back, never the hand-back
        CHECK(why() == "band.handed_back");
        CHECK(visit.cancel() == "");
        CHECK(why() == "band.cancelled");
    }
}

TEST_CASE("the permit waits for Arrive and for everybody's briefing") {
    PaperVisit visit;
    visit.open();
    CHECK(visit.act(isolating_acts(visit.people).front(), "issuer") == "missing.unseen");
    CHECK(visit.act(acts::Briefed{"doer"}, "doer") == "missing.unseen");
    visit.arrive();
    CHECK(visit.record("ground.load", Quantity{80, Unit::One}) == "locked.crew");
    visit.record("brief.crew", Choice{{"doer", "mate"}});
    CHECK(visit.act(acts::Briefed{"doer"}, "mate") == "permit.no.only_self");
    CHECK(visit.act(acts::Briefed{"doer"}, "doer") == "");
    CHECK(visit.record("ground.load", Quantity{80, Unit::One}) == "locked.brief");
    CHECK(visit.mean(visit::FinishStage{"brief"}) == "missing.briefed");
    CHECK(visit.act(acts::Briefed{"mate"}, "mate") == "");
    CHECK(visit.record("ground.load", Quantity{80, Unit::One}) == "");
    CHECK(visit.act(isolating_acts(visit.people).front(), "issuer") == "missing.stage");
    CHECK(visit.mean(visit::FinishStage{"brief"}) == "");
    CHECK(visit.act(isolating_acts(visit.people).front(), "issuer") == "");
    CHECK(visit.mean(visit::FinishStage{"permit"}) == "refused.not_this_stage");

    // Who comes later is briefed before the work goes on.
    visit.isolate();
    visit.issue();
    visit.accept();
    CHECK(visit.record("brief.crew", Choice{{"doer", "mate", "both"}}) == "");
    CHECK(visit.record("ground.rust", Grade::Sound) == "locked.stage");
    CHECK(visit.act(acts::Briefed{"both"}, "both") == "");
    CHECK(visit.record("ground.rust", Grade::Sound) == "");
}

TEST_CASE("what a permit was issued on can be corrected but not undone") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    CHECK(visit.mean(visit::UndoLast{}) == "refused.nothing_to_undo");
    CHECK(visit.record("arrive.right", Choice{{"no"}}) == "");
    CHECK(visit.record("top.damage", Grade::Sound) == "locked.stage");
    CHECK(visit.mean(visit::UndoLast{}) == "");
    CHECK(visit.record("top.damage", Grade::Sound) == "");
}

TEST_CASE("acts that should have been refused, or of another tablet, are irregular: treat as live") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    REQUIRE(visit.in_force());
    SECTION("an earth end taken off under the permit") {
        visit.append(model::PermitActed{acts::LineEndOff{"E-21"}}, "doer");
        CHECK(visit.state().permit.irregular == 1);
        CHECK_FALSE(visit.in_force());
        CHECK(visit.band().reason.key == "band.irregular");
    }
    SECTION("another tablet's act") {
        visit.device = "tablet-2";
        visit.append(model::PermitActed{acts::EarthEndOff{"E-21"}}, "doer");
        CHECK(visit.state().permit.irregular == 1);
        CHECK(visit.band().earths_on == 2);
        CHECK(visit.band().reason.key == "band.irregular");
    }
    // Only back: the way to the end stays open.
    visit.device = "tablet-1";
    CHECK(visit.act(acts::SignedOn{"A", "mate"}, "mate") != "");
    CHECK(visit.hand_back() == "");
    CHECK(visit.cancel() == "");
}

TEST_CASE("an earth that cannot be fitted is a lead's decision, and the band says so") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.brief();
    std::vector<acts::Act> all = isolating_acts(visit.people);
    std::erase_if(all, [](const acts::Act& act) {
        const auto* on = std::get_if<acts::EarthEndOn>(&act);
        const auto* line = std::get_if<acts::LineEndOn>(&act);
        return (on != nullptr && on->earth == "E-22") || (line != nullptr && line->earth == "E-22");
    });
    for (const acts::Act& one : all) {
        REQUIRE(visit.act(one, "issuer") == "");
    }
    CHECK(visit.issue() == "permit.no.earth_lv");
    CHECK(visit.act(acts::LeadDecided{"earth_not_fitted", "lv", "No stud on the LV terminals"}, "doer") ==
          "permit.no.lead_only");
    CHECK(visit.act(acts::LeadDecided{"earth_not_fitted", "lv", "No stud on the LV terminals"}, "lead") ==
          "");
    CHECK(visit.issue() == "");
    CHECK(visit.accept() == "");
    CHECK(visit.band().kind == visit::Band::Kind::InForceWithException);
    CHECK(visit.band().reason.key == "band.exception.earth_not_fitted");
    CHECK_FALSE(visit.state().doers.contains("lead"));
}

TEST_CASE("an undecided Danger that bars climbing locks the parts beyond reach, not those on the ground") {
    PaperVisit visit;
    for (model::Checkpoint& checkpoint : visit.protocol.checkpoints) {
        checkpoint.bars_climbing = checkpoint.id == "ground.rust"; // as a pole base would
    }
    visit.open();
    visit.up_to_work();
    visit.record("ground.rust", Grade::Danger);
    CHECK(visit.record("top.damage", Grade::Sound) == "locked.climbing");
    CHECK(visit.record("ground.rust", Grade::Danger) == "");
    CHECK(visit.mean(visit::DecideDanger{"ground.rust", "put_right", "Pole lashed to a new one"}, "lead") ==
          "");
    CHECK(visit.record("top.damage", Grade::Sound) == "");
}

TEST_CASE("supply waits until the permit is cancelled, every earth off, and for locks when it returns") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    const auto supply = [&] { return visit.record("restore.energise", Choice{{"yes"}}); };
    visit.act(acts::SignedOn{"A", "mate"}, "mate");
    visit.act(acts::ToolsOut{"A", 3}, "doer");
    visit.work();
    CHECK(supply() == "permit.no.person_on");
    visit.act(acts::SignedOff{"mate", ""}, "mate");
    CHECK(supply() == "permit.no.tools_missing");
    visit.act(acts::ToolsIn{"A", 3}, "doer");
    CHECK(supply() == "permit.no.party_holds");
    CHECK(visit.hand_back() == "");
    CHECK(supply() == "permit.no.not_cancelled");
    CHECK(visit.cancel() == "");
    CHECK(supply() == "permit.no.earths_on");
    CHECK(visit.mean(visit::FinishStage{"restore"}) != "");
    visit.clear(/*locks=*/false);
    CHECK(supply() == "permit.no.locks_on");
    SECTION("with locks off it returns") {
        visit.clear();
        CHECK(supply() == "");
    }
    SECTION("when it stays off the locks stay on") {
        CHECK(visit.record("restore.energise", Choice{{"no"}}) == "");
        CHECK(visit.mean(visit::FinishStage{"restore"}) == "");
        CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "");
        CHECK(visit.act(acts::PointUnlocked{"HV1"}, "issuer") == "locked.signed");
    }
}

TEST_CASE("supply waits for a lead's decision about every Danger") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    visit.work(Grade::Danger);
    visit.close();
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "locked.danger");
    CHECK(visit.mean(visit::DecideDanger{"top.damage", "put_right", "Replaced"}, "mate") ==
          "refused.lead_only");
    CHECK(visit.mean(visit::DecideDanger{"top.damage", "put_right", "  "}, "lead") ==
          "refused.decision_reason");
    CHECK(visit.mean(visit::DecideDanger{"top.damage", "forget_it", "Why not"}, "lead") ==
          "refused.decision_reason");
    CHECK(visit.mean(visit::DecideDanger{"top.damage", "put_right", "Replaced"}, "lead") == "");
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "");
}

TEST_CASE("whoever recorded a Danger cannot decide about it, lead or not") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    visit.record("ground.rust", Grade::Danger, "both");
    CHECK(visit.mean(visit::DecideDanger{"ground.rust", "put_right", "Done"}, "both") ==
          "refused.own_finding");
}

TEST_CASE("a decision holds for that finding only") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    visit.record("ground.rust", Grade::Danger);
    visit.mean(visit::DecideDanger{"ground.rust", "put_right", "Done"}, "lead");
    CHECK(visit::undecided_dangers(visit.protocol, visit.state(), {}).empty());
    visit.record("ground.rust", Grade::Sound);
    visit.record("ground.rust", Grade::Danger);
    CHECK(visit::undecided_dangers(visit.protocol, visit.state(), {}).size() == 1);
}

TEST_CASE("the signer is a lead who did nothing else in the visit, and signs exactly what was shown") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    visit.work();
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") != "");
    visit.restore();
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "doer") == "refused.lead_only");
    CHECK(visit.mean(visit::SignVisit{std::string(64, '0'), ""}, "lead") == "refused.stale_head");
    const std::string shown = visit.head;
    visit.record("ground.rust", Grade::Sound, "both");
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "both") == "refused.signer_is_doer");
    CHECK(visit.mean(visit::SignVisit{shown, ""}, "lead") == "refused.stale_head");
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "");
    CHECK(visit.record("ground.rust", Grade::Repair) == "locked.signed");
    CHECK(visit.mean(visit::UndoLast{}) == "locked.signed");
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "locked.signed");
}

TEST_CASE("a visit broken off before anything was isolated goes straight to the signature") {
    PaperVisit visit;
    visit.open();
    visit.record("arrive.right", Choice{{"no"}});
    CHECK(visit.mean(visit::BreakOff{" "}) == "refused.break_off_reason");
    CHECK(visit.mean(visit::BreakOff{"Wrong structure"}) == "");
    CHECK(visit.mean(visit::BreakOff{"Again"}) == "refused.already_ended");
    CHECK(visit.record("arrive.right", Choice{{"yes"}}) == "locked.broken_off");
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "");
}

TEST_CASE("a visit broken off with earths on ends only through Restore") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    CHECK(visit.mean(visit::BreakOff{"Storm"}) == "");
    CHECK(visit.in_force()); // the permit is still out
    CHECK(visit.record("top.damage", Grade::Sound) == "locked.broken_off");
    CHECK(visit.act(acts::SignedOn{"A", "mate"}, "mate") == "locked.broken_off");
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "permit.no.party_holds");
    CHECK(visit.mean(visit::UndoLast{}) != "");
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "permit.no.party_holds");
    visit.close();
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "");
    CHECK(visit.mean(visit::FinishStage{"restore"}) == "");
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "");
}

TEST_CASE("a permit that nobody gets is no dead end, wherever it stops: what was begun is put back") {
    const std::size_t all = isolating_acts({}).size();
    for (std::size_t done = 0; done <= all + 1; ++done) {
        INFO("acts done: " << done);
        PaperVisit visit;
        visit.open();
        visit.arrive();
        visit.brief();
        const auto list = isolating_acts(visit.people);
        for (std::size_t i = 0; i < std::min(done, all); ++i) {
            REQUIRE(visit.act(list[i], "issuer") == "");
        }
        if (done > all) {
            REQUIRE(visit.issue() == "");
        }
        REQUIRE(visit.mean(visit::BreakOff{"No detector works"}) == "");
        const bool begun = visit::permit::has_begun(visit.state().permit);
        CHECK((visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "") == !begun);
        if (!begun) {
            continue;
        }
        visit.act(acts::TakenBack{"A"}, "issuer");
        visit.clear(/*locks=*/false); // before anything was issued they come off without ceremony
        REQUIRE(visit.cancel() == "");
        visit.clear();
        REQUIRE(visit.record("restore.energise", Choice{{"yes"}}) == "");
        REQUIRE(visit.mean(visit::FinishStage{"restore"}) == "");
        REQUIRE(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "");
    }
}

TEST_CASE("nothing can be broken off before a visit is open") {
    const PaperVisit visit;
    CHECK_FALSE(visit::may_break_off(visit.ground(), visit.state()));
}

TEST_CASE("a condition asks a checkpoint only when it holds") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    visit.record("top.damage", Grade::Watch);
    CHECK(visit.record("top.extra", Grade::Sound) == "refused.not_asked");
    visit.record("top.damage", Grade::Repair);
    CHECK(visit.record("top.extra", Grade::Sound) == "");
}

TEST_CASE("values that do not fit are refused with their reason") {
    PaperVisit visit;
    visit.open();
    CHECK(visit.record("arrive.right", Choice{{"maybe"}}) == "refused.wrong_kind");
    CHECK(visit.record("arrive.right", Grade::Sound) == "refused.wrong_kind");
    CHECK(visit.record("arrive.right", model::OutOfReach{"hedge"}) == "refused.must_be_seen");
    CHECK(visit.record("nowhere", Grade::Sound) == "refused.not_asked");
    CHECK(visit.record("arrive.right", Choice{{"yes"}}, "stranger") == "refused.unknown_person");
    visit.record("arrive.right", Choice{{"yes"}});
    CHECK(visit.record("arrive.position", model::Remark{"   "}) == "refused.blank");
    CHECK(visit.record("arrive.position", model::Remark{std::string(21, 'x')}) == "refused.too_long");
    visit.arrive();
    CHECK(visit.record("brief.crew", Choice{{"doer"}}) == "refused.people");
    CHECK(visit.record("brief.crew", Choice{{"doer", "ghost"}}) == "refused.people");
    visit.brief();
    visit.permit();
    CHECK(visit.record("top.gap", Quantity{51, Unit::Metre}) == "refused.impossible");
    CHECK(visit.record("top.gap", Quantity{-0.1, Unit::Metre}) == "refused.impossible");
    CHECK(visit.record("top.gap", Quantity{3, Unit::Millimetre}) == "refused.wrong_kind");
    CHECK(visit.record("top.gap", Quantity{0.0 / 0.0, Unit::Metre}) == "refused.wrong_kind");
    CHECK(visit.record("top.gap", Quantity{0.5, Unit::Metre}) == "refused.unusual");
    CHECK(visit.record("top.gap", Quantity{0.5, Unit::Metre}, "doer", "Measured again") == "");
    CHECK(visit.record("top.damage", model::OutOfReach{" "}) == "refused.reason");
    CHECK(visit.record("top.damage", model::OutOfReach{"Wasps"}) == "");
}

TEST_CASE("out of reach keeps a part from being shown as Sound") {
    PaperVisit visit;
    visit.open();
    visit.up_to_work();
    visit.record("top.damage", Grade::Sound);
    visit.record("top.gap", model::OutOfReach{"Wasps"});
    const auto standing = visit::standing(visit.protocol, visit.structure(), visit.state(), {}, "top");
    CHECK(standing.unseen == 0);
    CHECK_FALSE(standing.may_show_sound());
}
