// The safe order: what is locked, what is missing, and what the band says.
#include "tests/support/catch.hpp"
#include "tests/support/paper_visit.hpp"

#include <random>

using namespace crossarm;
using model::Choice;
using model::Grade;
using model::Quantity;
using model::Unit;
using tests::PaperVisit;

TEST_CASE("a fresh visit has no grade anywhere and is to be treated as live") {
    PaperVisit visit;
    visit.open();
    const visit::State state = visit.state();
    CHECK(state.answers.empty());
    CHECK_FALSE(visit::band(visit.protocol, visit.structure(), state).permit_in_force);
    for (const model::Part& part : visit.protocol.parts) {
        const auto standing = visit::standing(visit.protocol, visit.structure(), state, {}, part.id);
        CHECK_FALSE(standing.worst.has_value());
        CHECK_FALSE(standing.may_show_sound());
    }
}

TEST_CASE("a later stage is locked until the one before is finished, and says which") {
    PaperVisit visit;
    visit.open();
    CHECK(visit.record("permit.number", model::Remark{"QV 7"}) == "locked.stage");
    CHECK(visit.record("top.damage", Grade::Sound) == "locked.stage");
    visit.arrive();
    CHECK(visit.record("permit.number", model::Remark{"QV 7"}) == "");
}

TEST_CASE("in a read-then-do stage a step waits for the one before it") {
    PaperVisit visit;
    visit.open();
    CHECK(visit.record("arrive.people", Choice{{"doer", "mate"}}) == "locked.step");
    CHECK(visit.record("arrive.right", Choice{{"no"}}) == "");
    // An answer that stops the stage locks what comes after it as well.
    CHECK(visit.record("arrive.people", Choice{{"doer", "mate"}}) == "locked.step");
    CHECK(visit.mean(visit::FinishStage{"arrive"}) == "missing.stops");
    CHECK(visit.record("arrive.right", Choice{{"yes"}}) == "");
    CHECK(visit.record("arrive.people", Choice{{"doer", "mate"}}) == "");
    CHECK(visit.mean(visit::FinishStage{"arrive"}) == "");
}

TEST_CASE("the band is blue only with an accepted permit, earths on and the stage finished") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    const auto in_force = [&] {
        return visit::band(visit.protocol, visit.structure(), visit.state()).permit_in_force;
    };
    visit.record("permit.number", model::Remark{"QV 7"});
    visit.record("permit.holder", Choice{{"doer"}});
    for (const char* step : {"permit.proved", "permit.dead", "permit.proved_after"}) {
        visit.record(step, Choice{{"yes"}});
    }
    visit.record("permit.earths", Quantity{2, Unit::One});
    CHECK_FALSE(in_force());
    visit.record("permit.accepted", Choice{{"yes"}});
    CHECK_FALSE(in_force());
    visit.mean(visit::FinishStage{"permit"});
    REQUIRE(in_force());
    const visit::Band band = visit::band(visit.protocol, visit.structure(), visit.state());
    CHECK(band.permit == "QV 7");
    CHECK(band.holder == "doer");
    CHECK(band.earths_on == 2);

    SECTION("a correction that takes the acceptance back takes the band back too, and locks the top") {
        CHECK(visit.record("permit.accepted", Choice{{"no"}}) == "");
        CHECK_FALSE(in_force());
        CHECK(visit.record("top.damage", Grade::Sound) == "locked.stage");
    }
    SECTION("from the hand-back on the structure is to be treated as live, and the top is locked again") {
        visit.work();
        CHECK(visit.record("restore.handed_back", Choice{{"yes"}}) == "");
        CHECK_FALSE(in_force());
        CHECK(visit.record("top.damage", Grade::Watch) == "locked.permit");
        CHECK(visit.record("ground.rust", Grade::Sound) == "");
    }
    SECTION("undoing the hand-back brings the recorded state back") {
        visit.work();
        visit.record("restore.handed_back", Choice{{"yes"}});
        CHECK(visit.mean(visit::UndoLast{}) == "");
        CHECK(in_force());
    }
}

TEST_CASE("a proof that failed once is done again from its beginning, in order") {
    // EN 50110-1 6.2.4 and IEC 61243-1 (from memory): the detector is proved before and after the test.
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.record("permit.number", model::Remark{"QV 7"});
    visit.record("permit.holder", Choice{{"doer"}});
    visit.record("permit.proved", Choice{{"yes"}});
    visit.record("permit.dead", Choice{{"yes"}});
    CHECK(visit.record("permit.proved_after", Choice{{"no"}}) == "");
    // Another detector works: saying so alone proves nothing about the test before.
    CHECK(visit.record("permit.proved_after", Choice{{"yes"}}) == "locked.step");
    CHECK(visit.record("permit.earths", Quantity{2, Unit::One}) == "locked.step");
    CHECK(visit.record("permit.dead", Choice{{"yes"}}) == "locked.step");
    CHECK(visit.record("permit.proved", Choice{{"yes"}}) == "");
    CHECK(visit.record("permit.dead", Choice{{"yes"}}) == "");
    CHECK(visit.record("permit.earths", Quantity{2, Unit::One}) == "locked.step");
    CHECK(visit.record("permit.proved_after", Choice{{"yes"}}) == "");
    CHECK(visit.record("permit.earths", Quantity{2, Unit::One}) == "");
}

TEST_CASE("a wrong touch on a failing answer can be undone without doing the proof again") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.record("permit.number", model::Remark{"QV 7"});
    visit.record("permit.holder", Choice{{"doer"}});
    visit.record("permit.proved", Choice{{"yes"}});
    visit.record("permit.dead", Choice{{"no"}});
    CHECK(visit.mean(visit::UndoLast{}) == "");
    CHECK(visit.record("permit.dead", Choice{{"yes"}}) == "");
}

TEST_CASE(
    "testing again after the permit was accepted takes it out of force until all is proved and earthed") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.permit();
    const auto in_force = [&] {
        return visit::band(visit.protocol, visit.structure(), visit.state()).permit_in_force;
    };
    REQUIRE(in_force());
    CHECK(visit.record("permit.dead", Choice{{"no"}}) == "");
    CHECK_FALSE(in_force());
    CHECK(visit.record("top.damage", Grade::Sound) == "locked.stage");
    for (const char* step : {"permit.proved", "permit.dead", "permit.proved_after"}) {
        CHECK(visit.record(step, Choice{{"yes"}}) == "");
        CHECK_FALSE(in_force());
    }
    CHECK(visit.record("permit.earths", Quantity{2, Unit::One}) == "");
    CHECK(in_force());
}

TEST_CASE("an undecided Danger that bars climbing locks the parts beyond reach, not those on the ground") {
    PaperVisit visit;
    for (model::Checkpoint& checkpoint : visit.protocol.checkpoints) {
        checkpoint.bars_climbing = checkpoint.id == "ground.rust"; // as a pole base would
    }
    visit.open();
    visit.arrive();
    visit.permit();
    visit.record("ground.rust", Grade::Danger);
    CHECK(visit.record("top.damage", Grade::Sound) == "locked.climbing");
    CHECK(visit.record("ground.rust", Grade::Danger) == "");
    CHECK(visit.mean(visit::DecideDanger{"ground.rust", "put_right", "Pole lashed to a new one"}, "lead") ==
          "");
    CHECK(visit.record("top.damage", Grade::Sound) == "");
}

TEST_CASE("supply waits until as many earths are off as were put on") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.permit(3);
    visit.work();
    visit.record("restore.handed_back", Choice{{"yes"}});
    visit.record("restore.earths_off", Quantity{2, Unit::One});
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "locked.step");
    visit.record("restore.earths_off", Quantity{3, Unit::One});
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "");
}

TEST_CASE("supply waits for a lead's decision about every Danger") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.permit();
    visit.work(Grade::Danger);
    visit.record("restore.handed_back", Choice{{"yes"}});
    visit.record("restore.earths_off", Quantity{2, Unit::One});
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
    visit.arrive();
    visit.permit();
    visit.record("ground.rust", Grade::Danger, "both");
    CHECK(visit.mean(visit::DecideDanger{"ground.rust", "put_right", "Done"}, "both") ==
          "refused.own_finding");
}

TEST_CASE("a decision holds for that finding only") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.permit();
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
    visit.arrive();
    visit.permit();
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
    visit.arrive();
    visit.permit(2);
    CHECK(visit.mean(visit::BreakOff{"Storm"}) == "");
    CHECK(visit::band(visit.protocol, visit.structure(), visit.state()).permit_in_force);
    CHECK(visit.record("top.damage", Grade::Sound) == "locked.broken_off");
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "missing.unseen");
    CHECK(visit.mean(visit::UndoLast{}) == "locked.broken_off"); // nobody undoes his way round Restore
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "locked.step");
    CHECK(visit.record("restore.handed_back", Choice{{"yes"}}) == "");
    CHECK(visit.record("restore.earths_off", Quantity{1, Unit::One}) == "");
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "locked.step");
    CHECK(visit.record("restore.earths_off", Quantity{2, Unit::One}) == "");
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "");
    CHECK(visit.mean(visit::FinishStage{"restore"}) == "");
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "");
}

TEST_CASE("answers of the permit that were undone still lead through Restore when the visit is broken off") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.permit(2);
    while (visit.state().answers.contains("permit.number")) {
        REQUIRE(visit.mean(visit::UndoLast{}) == "");
    }
    CHECK(visit.mean(visit::BreakOff{"Storm"}) == "");
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "missing.unseen");
    CHECK(visit.record("restore.handed_back", Choice{{"yes"}}) == "");
}

TEST_CASE("nothing can be broken off before a visit is open") {
    const PaperVisit visit;
    CHECK_FALSE(visit::may_break_off(visit.ground(), visit.state()));
}

TEST_CASE("a permit that is refused is no dead end: what was begun is put back") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.record("permit.number", model::Remark{"QV 7"});
    visit.record("permit.holder", Choice{{"doer"}});
    CHECK(visit.mean(visit::BreakOff{"No detector works"}) == "");
    CHECK(visit.record("restore.handed_back", Choice{{"yes"}}) == "");
    // No earth was ever recorded on: none can be taken off.
    CHECK(visit.record("restore.earths_off", Quantity{1, Unit::One}) == "");
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "locked.step");
    CHECK(visit.record("restore.earths_off", Quantity{0, Unit::One}) == "");
    CHECK(visit.record("restore.energise", Choice{{"yes"}}) == "");
    CHECK(visit.mean(visit::FinishStage{"restore"}) == "");
    CHECK(visit.mean(visit::SignVisit{visit.head, ""}, "lead") == "");
}

TEST_CASE("a condition asks a checkpoint only when it holds") {
    PaperVisit visit;
    visit.open();
    visit.arrive();
    visit.permit();
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
    CHECK(visit.record("arrive.people", Choice{{"doer"}}) == "refused.people");
    CHECK(visit.record("arrive.people", Choice{{"doer", "ghost"}}) == "refused.people");
    visit.arrive();
    CHECK(visit.record("permit.number", model::Remark{"   "}) == "refused.blank");
    CHECK(visit.record("permit.number", model::Remark{std::string(21, 'x')}) == "refused.too_long");
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
    visit.arrive();
    visit.permit();
    visit.record("top.damage", Grade::Sound);
    visit.record("top.gap", model::OutOfReach{"Wasps"});
    const auto standing = visit::standing(visit.protocol, visit.structure(), visit.state(), {}, "top");
    CHECK(standing.unseen == 0);
    CHECK_FALSE(standing.may_show_sound());
}

TEST_CASE("no sequence of intents reaches work at the top without a permit, nor supply with an earth on") {
    // Common practice, no source: the order of making dead and of restoring supply.
    for (std::uint32_t seed = 1; seed <= 60; ++seed) {
        std::mt19937 random(seed);
        PaperVisit visit;
        visit.open();
        const std::vector<std::string> who = {"doer", "mate", "lead", "both"};
        for (int step = 0; step < 160; ++step) {
            const std::string& person = who[random() % who.size()];
            const model::Checkpoint& at =
                visit.protocol.checkpoints[random() % visit.protocol.checkpoints.size()];
            const bool was_in_force =
                visit::band(visit.protocol, visit.structure(), visit.state()).permit_in_force;
            const std::size_t before = visit.entries.size();
            switch (random() % 6) {
            case 0:
                visit.mean(visit::FinishStage{visit.protocol.stages[random() % 6].id}, person);
                break;
            case 1:
                visit.mean(visit::UndoLast{}, person);
                break;
            case 2:
                visit.mean(visit::DecideDanger{at.id, "put_right", "Done"}, person);
                break;
            default:
                if (std::holds_alternative<model::GradeInput>(at.input)) {
                    visit.record(at.id, static_cast<Grade>(random() % 4), person);
                } else if (std::holds_alternative<model::ChoiceInput>(at.input)) {
                    visit.record(at.id, Choice{{random() % 4 == 0 ? "no" : "yes"}}, person);
                } else if (std::holds_alternative<model::PeopleInput>(at.input)) {
                    visit.record(at.id, Choice{{"doer", "mate"}}, person);
                } else if (std::holds_alternative<model::TextInput>(at.input)) {
                    visit.record(at.id, model::Remark{"QV 7"}, person);
                } else {
                    visit.record(at.id,
                                 Quantity{static_cast<double>(1 + random() % 3),
                                          at.id == "top.gap" ? Unit::Metre : Unit::One},
                                 person);
                }
            }
            if (visit.entries.size() == before) {
                continue;
            }
            const auto* found = std::get_if<model::Found>(&visit.entries.back().body);
            if (found != nullptr && found->finding.part == "top") {
                REQUIRE(was_in_force);
            }
            if (found != nullptr && found->finding.checkpoint == "restore.energise") {
                const visit::State state = visit.state();
                const auto on = std::get<Quantity>(state.answers.at("permit.earths").finding.value).value;
                const auto off =
                    std::get<Quantity>(state.answers.at("restore.earths_off").finding.value).value;
                REQUIRE(on == off);
                REQUIRE(visit::undecided_dangers(visit.protocol, state, {}).empty());
            }
        }
    }
}
