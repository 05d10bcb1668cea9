// What the screens do not let a finger do, and the words they say instead.
#include "checklist/model/strokes.hpp"
#include "tests/faults/faulty_disk.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/form_walker.hpp"
#include "tests/support/permit_script.hpp"
#include "tests/support/screen_rig.hpp"
#include "tests/support/screen_states.hpp"

#include <algorithm>
#include <cctype>

using namespace crossarm;
using namespace crossarm::tests;

namespace {

/// A visit at a stage of one's choice, and the finger on its structure screen.
struct Bench {
    ScreenRig rig;
    VisitScript script;
    Finger& finger = rig.finger();

    explicit Bench(Answers answers = scenario_answers(), const std::string& doer = VisitScript::kDoer)
        : script(rig.tablet(), std::move(answers)) {
        script.open(doer);
        finger.settle();
    }
    void up_to(const std::string& stage) {
        script.finish_up_to(stage);
        to_structure();
    }
    void to_structure() {
        script.leave_to_structure();
        finger.settle();
    }
    void to_checkpoint(const std::string& checkpoint) {
        script.leave_to_structure();
        script.go(ui::Screen::Checkpoint, "", checkpoint);
        finger.settle();
    }
    void hand_to(const std::string& person) {
        finger.tap("who");
        finger.tap("people/list/" + person);
        FormWalker(finger, rig.session()).pin("pin_own", kTestPin);
    }
    /// On the form of the visit's signature: draws and types, and leaves the hold.
    void sign(const std::string& person = VisitScript::kLead) {
        finger.sign("form/signature/pad");
        finger.tap("form/signature/keep");
        FormWalker(finger, rig.session()).pin("pin_" + person, kTestPin);
    }
    /// Entries in the store, not on the screen.
    [[nodiscard]] std::vector<model::Entry> entries() {
        const auto read = rig.tablet().store().entries(rig.view().at_hand->visit);
        REQUIRE(read.ok());
        return *read;
    }
    [[nodiscard]] const visit::Answer* answer(const std::string& checkpoint) {
        return ui::answer_at(rig.view(), checkpoint);
    }
    /// Is there, cannot be touched, says why; a touch on it all the same brings no entry and no other screen.
    void check_barred(const std::string& path, const std::string& why) {
        finger.show(path);
        const ui::Item item = finger.item(path);
        INFO(path << ": " << item.text);
        CHECK(!item.enabled);
        CHECK(item.why_disabled.find(why) != std::string::npos);
        CHECK(item.text.find(why) != std::string::npos);
        const std::size_t before = entries().size();
        const ui::Place place = rig.session().place();
        finger.wait(1);
        finger.drag(item.visible().centre(), item.visible().centre(), 2.0); // as long as a hold
        finger.tap_at(item.visible().centre());
        CHECK(entries().size() == before);
        CHECK(rig.session().place() == place);
    }
};

Answers with(Answers answers, const std::string& checkpoint, const std::string& answer) {
    answers[checkpoint] = answer;
    return answers;
}

std::string lower(std::string text) {
    std::ranges::transform(text, text.begin(), [](unsigned char c) { return std::tolower(c); });
    return text;
}

} // namespace

TEST_CASE("whoever worked in the visit cannot sign it, be it a lead") {
    Bench bench(scenario_answers(), "P-016");
    bench.up_to("sign_off");
    bench.finger.tap("sign_off");
    bench.check_barred("sign", "Whoever worked in this visit cannot sign it. Another lead must.");
    bench.hand_to("P-011");
    bench.check_barred("sign", "Only a lead can do this. Hand the tablet to the lead.");
    bench.hand_to("P-021");
    bench.finger.tap("sign");
    bench.sign();
    bench.finger.hold("form/confirm", 0.9); // too short
    CHECK(!bench.rig.view().at_hand->state.signature);
    CHECK(bench.finger.sees("Held too short: nothing was done"));
    bench.finger.hold("form/confirm");
    REQUIRE(bench.rig.view().at_hand->state.signature);
    CHECK(bench.entries().back().by == "P-021");
    const model::Entry last = bench.entries().back();
    const auto* signed_entry = std::get_if<model::Signed>(&last.body);
    REQUIRE(signed_entry != nullptr);
    CHECK(model::parse_strokes(signed_entry->strokes, "signature").ok());
}

TEST_CASE("nobody signs, decides or confirms without the own PIN, whatever a screen asks for") {
    Bench bench(with(scenario_answers(), "hv_bushings.damage", "crack_flange"));
    bench.up_to("permit");
    PermitScript permit(bench.rig.session());
    permit.isolate();
    const std::size_t before = bench.entries().size();
    const auto refused = [&](const ui::Wish& wish, const char* whose) {
        bench.rig.wish({taken_by("P-016"), wish});
        CHECK(bench.rig.view().notice ==
              std::string("This needs the PIN of ") + whose + ". Nothing was recorded.");
        CHECK(bench.entries().size() == before);
    };
    const ui::AtHand& at_hand = *bench.rig.view().at_hand;
    const model::Timestamp now = bench.rig.now();
    const NextAct issue = issuing(at_hand.state.permit, VisitScript::kStructure, {"P-016", "P-011", "P-003"},
                                  {now.utc_ms + 3'600'000, 0});
    const visit::ActOnPermit intent{issue.act};
    refused(ui::Mean{intent}, "Noor Ashgrove");
    refused(ui::MeanWithPins{intent, {{"P-016", kTestPin}}}, "Ennis Varrow");
    refused(ui::MeanWithPins{intent, {{"P-016", kTestPin}, {"P-021", kTestPin}}}, "Ennis Varrow");
    bench.rig.wish({ui::MeanWithPins{intent, {{"P-016", kTestPin}, {"P-003", "000000"}}}});
    CHECK(bench.rig.view().pin_notice.starts_with("Wrong PIN of Ennis Varrow. Nothing was recorded."));
    CHECK(bench.entries().size() == before);
    bench.rig.wish({ui::MeanWithPins{intent, {{"P-016", kTestPin}, {"P-003", kTestPin}}}});
    CHECK(bench.entries().size() == before + 1);
}

TEST_CASE("a thousand wrong PINs leave no entry, and each is told what to wait") {
    Bench bench;
    const std::size_t before = bench.entries().size();
    int told = 0;
    for (int i = 0; i < 1000; ++i) {
        bench.rig.session().carry_out({ui::TakeOver{"P-021", "314159"}});
        const std::string notice = bench.rig.view().pin_notice;
        told += notice.starts_with("Wrong PIN of Isla Quenby. Nothing was recorded.") ||
                        notice.starts_with("Too early: no PIN of Isla Quenby is looked at for ")
                    ? 1
                    : 0;
    }
    CHECK(told == 1000);
    CHECK(bench.entries().size() == before);
    CHECK(bench.rig.view().who == VisitScript::kDoer);
    // The right PIN is not looked at during the wait either.
    bench.rig.session().carry_out({taken_by("P-021")});
    CHECK(bench.rig.view().who == VisitScript::kDoer);
    CHECK(bench.rig.view().pin_notice.starts_with("Too early"));
}

TEST_CASE("whoever sees the danger stops the work, on every screen and before anybody took the tablet") {
    Bench bench;
    bench.up_to("work");
    using Where = std::pair<ui::Screen, const char*>;
    for (const Where& where : std::vector<Where>{{ui::Screen::Structure, ""},
                                                 {ui::Screen::Round, ""},
                                                 {ui::Screen::People, ""},
                                                 {ui::Screen::Part, "breather"},
                                                 {ui::Screen::Permit, ""},
                                                 {ui::Screen::Briefing, ""},
                                                 {ui::Screen::SignOff, ""},
                                                 {ui::Screen::HandOver, ""}}) {
        bench.script.go(where.first, where.second);
        bench.finger.settle();
        REQUIRE(bench.rig.view().at_hand->band.in_force());
        bench.finger.tap("stop_work");
        CHECK(!bench.rig.view().at_hand->band.in_force());
        const model::Entry last = bench.entries().back();
        const auto* acted = std::get_if<model::PermitActed>(&last.body);
        REQUIRE(acted != nullptr);
        CHECK(std::holds_alternative<model::permit::Suspended>(acted->act));
        bench.script.leave_to_structure();
        PermitScript permit(bench.rig.session());
        permit.act(model::permit::Resumed{"A"}, "P-016");
        permit.accept();
    }
    // The program starts anew: nobody holds the tablet, the band knows of the work, one touch stops it.
    bench.rig.reopen();
    CHECK(bench.rig.view().who.empty());
    bench.rig.finger().tap("stop_work");
    REQUIRE(bench.rig.view().at_hand);
    CHECK(!bench.rig.view().at_hand->band.in_force());
    CHECK(bench.entries().back().by.empty());
}

TEST_CASE("while people work under a permit no other structure is opened") {
    Bench bench;
    bench.up_to("work");
    bench.script.go(ui::Screen::Round);
    bench.finger.settle();
    bench.finger.tap("round/QM-0102");
    CHECK(bench.finger.sees("A permit is in force at QM-0101."));
    CHECK(bench.rig.view().at_hand->structure->id == VisitScript::kStructure);
    bench.finger.tap("stop_work");
    bench.finger.tap("round/QM-0102");
    CHECK(bench.rig.session().place().structure == "QM-0102");
}

TEST_CASE("a visit with a step missing cannot be signed and says which") {
    Bench bench;
    bench.up_to("restore");
    bench.script.wish(taken_by(VisitScript::kLead));
    bench.script.go(ui::Screen::SignOff);
    bench.finger.settle();
    bench.check_barred("sign", "Party A still holds a permit.");
}

TEST_CASE("steps that are read one by one cannot be taken out of order") {
    Bench bench;
    bench.up_to("restore");
    bench.check_barred("structure/restore.energise", "Party A still holds a permit.");
    PermitScript(bench.rig.session()).close();
    bench.to_structure();
    CHECK(bench.finger.item("restore.energise").enabled);
    bench.script.answer("restore.energise", "restored");
    bench.to_structure();
    bench.check_barred("restore.rotation", "First answer the step before: LV voltage, breaker open.");
}

TEST_CASE("a later stage waits for the one before") {
    Bench bench;
    CHECK(!bench.finger.has("finish"));
    CHECK(bench.finger.has("next"));
    bench.finger.tap("view");
    bench.finger.tap("structure/hv_bushings");
    bench.check_barred("part/hv_bushings.damage", "First finish the stage Arrive.");
    bench.up_to("permit");
    bench.finger.tap("view");
    bench.finger.tap("structure/hv_bushings");
    bench.check_barred("part/hv_bushings.damage", "First finish the stage Permit.");
}

TEST_CASE("what cannot be reached from the ground is locked again once the permit is handed back") {
    Bench bench;
    bench.up_to("work");
    bench.finger.tap("structure/breather");
    bench.script.answer("breather.gel_kind", "blue");
    bench.finger.settle();
    CHECK(bench.finger.item("breather.gel_mass").enabled);
    bench.script.finish("work");
    bench.script.decide_dangers();
    PermitScript(bench.rig.session()).close();
    bench.to_structure();
    bench.finger.tap("view");
    bench.finger.tap("structure/breather");
    bench.check_barred("breather.gel_mass", "Breather cannot be reached from the ground. Locked until the "
                                            "permit is in force with earths recorded.");
}

TEST_CASE("a number that cannot be is not kept") {
    Bench bench;
    bench.to_checkpoint("arrive.wind"); // hard range 0 to 45 m/s
    bench.finger.type("pad", "60");
    bench.check_barred("pad/keep", "This cannot be. Possible: 0\u00A0m/s to 45\u00A0m/s.");
    bench.finger.type("pad", "C");
    bench.check_barred("pad/keep", "Type the number first.");
    CHECK(bench.answer("arrive.wind") == nullptr);
}

TEST_CASE("an unusual number is kept only with a reason, and the reason is stored") {
    Bench bench;
    bench.to_checkpoint("arrive.wind"); // usual up to 8 m/s
    bench.finger.type("pad", "9.5");
    CHECK(bench.finger.sees("Outside what is usual"));
    bench.finger.tap("pad/keep");
    CHECK(bench.answer("arrive.wind") == nullptr);
    CHECK(bench.finger.sees("9.5\u00A0m/s is outside what is usual here. Why is it kept?"));

    SECTION("from the list") {
        bench.finger.tap("reason/reason.instrument_checked");
        REQUIRE(bench.answer("arrive.wind") != nullptr);
        const model::Entry last = bench.entries().back();
        const auto* found = std::get_if<model::Found>(&last.body);
        REQUIRE(found != nullptr);
        CHECK(found->finding.insisted == "Instrument checked on a known value");
        CHECK(found->finding.value == model::Value(model::Quantity{9.5, model::Unit::MetrePerSecond}));
    }
    SECTION("in own words") {
        bench.finger.tap("reason/own_words");
        bench.finger.type_text("own_words", "Gusts at the ridge");
        bench.finger.tap("own_words/keep");
        REQUIRE(bench.answer("arrive.wind") != nullptr);
        CHECK(bench.answer("arrive.wind")->finding.insisted == "Gusts at the ridge");
    }
    SECTION("or is typed again") {
        bench.finger.tap("again");
        bench.finger.type("pad", "C3.5");
        bench.finger.tap("pad/keep");
        REQUIRE(bench.answer("arrive.wind") != nullptr);
        CHECK(bench.answer("arrive.wind")->finding.insisted.empty());
    }
}

TEST_CASE("an answer that stops the stage is kept, and stops it") {
    Bench bench;
    bench.to_checkpoint("arrive.structure");
    bench.finger.tap("choice/different");
    CHECK(bench.answer("arrive.structure") != nullptr);
    CHECK(bench.finger.sees("This stops the stage: This is not the structure of this visit"));
    for (const model::Checkpoint& one : bench.rig.tablet().protocol().checkpoints) {
        const ui::AtHand& at_hand = *bench.rig.view().at_hand;
        if (one.stage == "arrive" && one.id != "arrive.structure" &&
            visit::is_asked(one, *at_hand.structure, at_hand.state)) {
            bench.script.answer(one.id, plain_answer(one, bench.rig.view()));
        }
    }
    bench.to_structure();
    CHECK(!bench.finger.has("finish"));
    bench.finger.tap("next");
    CHECK(bench.rig.session().place().checkpoint == "arrive.structure");
    bench.finger.tap("again");
    bench.finger.tap("choice/same");
    bench.to_structure();
    bench.finger.tap("finish");
    CHECK(bench.rig.view().at_hand->state.finished.contains("arrive"));
}

TEST_CASE("supply does not return before a lead has decided about a Danger") {
    Bench bench(with(scenario_answers(), "hv_bushings.damage", "crack_flange"));
    for (const char* stage : {"arrive", "brief", "permit", "work"}) {
        bench.script.finish(stage);
    }
    PermitScript(bench.rig.session()).close();
    bench.to_structure();
    bench.check_barred("structure/restore.energise", "A lead must first decide about the Danger at: ");
    std::size_t left = bench.rig.view().at_hand->undecided.size();
    CHECK(left > 0);

    // Whoever is no lead gets no further than the refusal.
    bench.finger.tap("undecided");
    CHECK(!bench.finger.has("form/decision/choice/may_return"));
    CHECK(bench.finger.sees("Only a lead can do this. Hand the tablet to the lead."));
    CHECK(bench.rig.view().at_hand->undecided.size() == left);

    bench.hand_to(VisitScript::kLead);
    for (; left > 0; --left) {
        bench.to_structure();
        bench.finger.tap("undecided");
        CHECK(!bench.finger.has("form/confirm")); // nothing is decided beforehand
        bench.finger.tap("form/decision/choice/put_right");
        bench.check_barred("form/reason/text/keep", "Type something first.");
        bench.finger.type_text("form/reason/text", "Seen");
        bench.finger.tap("form/reason/text/keep");
        FormWalker(bench.finger, bench.rig.session()).pin(std::string("pin_") + VisitScript::kLead, kTestPin);
        bench.finger.hold("form/confirm");
    }
    CHECK(bench.rig.view().at_hand->undecided.empty());
    CHECK(bench.finger.item("restore.energise").enabled);
}

TEST_CASE("undo takes the last answer back and both stay in the journal") {
    Bench bench;
    bench.check_barred("undo", "There is nothing to undo.");
    bench.to_checkpoint("arrive.ground");
    bench.finger.tap("grade/watch");
    CHECK(bench.finger.sees("Kept on this tablet"));
    const std::size_t before = bench.entries().size();
    bench.to_structure();
    bench.finger.tap("undo");
    CHECK(bench.answer("arrive.ground") == nullptr);
    CHECK(bench.entries().size() == before + 1);
    CHECK(std::holds_alternative<model::Withdrawn>(bench.entries().back().body));
    bench.check_barred("undo", "There is nothing to undo.");
}

TEST_CASE("a visit that is broken off is signed by a lead and handed over") {
    Bench bench;
    bench.finger.tap("break_off");
    bench.check_barred("reason/keep", "Type something first.");
    bench.finger.type_text("reason", "Storm");
    bench.finger.tap("reason/keep");
    CHECK(bench.rig.view().at_hand->state.broken_off == "Storm");
    bench.script.go(ui::Screen::Checkpoint, "", "arrive.wind");
    bench.finger.settle();
    CHECK(bench.finger.sees("The visit was broken off."));
    bench.to_structure();
    bench.finger.tap("sign_off");
    CHECK(bench.finger.sees("Broken off: Storm"));
    bench.hand_to(VisitScript::kLead);
    bench.finger.tap("sign");
    bench.sign();
    bench.finger.hold("form/confirm");
    REQUIRE(bench.rig.view().at_hand->state.signature);
    bench.finger.tap("write");
    CHECK(bench.rig.view().at_hand->bundle);
}

TEST_CASE("broken off with earths on, the visit goes on with Restore") {
    Bench bench;
    bench.up_to("work");
    bench.finger.tap("break_off");
    bench.finger.type_text("reason", "Storm");
    bench.finger.tap("reason/keep");
    CHECK(bench.rig.view().at_hand->state.broken_off == "Storm");
    CHECK(bench.rig.view().at_hand->band.in_force());
    bench.to_structure();
    CHECK(bench.finger.sees("Restore"));
    CHECK(!bench.finger.has("break_off"));
    CHECK(bench.finger.has("restore.energise"));
}

TEST_CASE("the band says to treat as live until the permit is in force, and again after it") {
    Bench bench;
    const auto band = [&] {
        bench.to_structure();
        return bench.finger.item("band").text;
    };
    const std::string live = "TREAT AS LIVE";
    for (const char* stage : {"arrive", "brief"}) {
        CHECK(band().starts_with(live));
        bench.script.finish(stage);
    }
    PermitScript permit(bench.rig.session());
    permit.isolate();
    CHECK(band().starts_with(live + "\nNo permit in force with earths recorded. 2 earths on."));
    permit.issue();
    CHECK(band().starts_with(live));
    permit.accept();
    CHECK(band().starts_with("Permit QV 2611 in force\n2 earths on. Held by Jory Pellam."));
    permit.act(model::permit::Suspended{"", "Thunder"}, "P-007");
    CHECK(band().starts_with(live + "\nPermit of party A suspended: Thunder."));
    permit.act(model::permit::Resumed{"A"}, "P-016");
    permit.accept();
    CHECK(band().starts_with("Permit QV 2611 in force"));
    bench.script.finish("work");
    bench.script.decide_dangers();
    CHECK(band().starts_with("Permit QV 2611 in force"));
    permit.close();
    CHECK(band().starts_with(live + "\nThe permit was cancelled at "));
    bench.script.finish("restore");
    CHECK(band().starts_with(live)); // to the crew the line is live, whatever was restored
}

TEST_CASE("no band ever speaks of safe or dead") {
    ScreenRig rig;
    VisitScript script(rig.tablet(), scenario_answers());
    show_every_state(script, [&](const std::string& state) {
        rig.finger().settle();
        const std::string words = lower(rig.finger().item("band").text);
        INFO(state << ": " << words);
        CHECK(words.find("safe") == std::string::npos);
        CHECK(words.find("dead") == std::string::npos);
    });
}

TEST_CASE("on a full disk the screen says that nothing was kept, and shows no answer") {
    FaultyDisk disk;
    Bench bench;
    bench.to_checkpoint("arrive.ground");
    const std::size_t before = bench.entries().size();
    disk.fail(1, SQLITE_FULL, FaultyDisk::Fails::Forever, FaultyDisk::What::Writes);
    bench.finger.tap("grade/watch");
    CHECK(disk.has_failed());
    CHECK(bench.finger.sees("not kept"));
    CHECK(!bench.finger.sees("Kept on this tablet"));
    CHECK(!bench.finger.sees("Recorded: Watch"));
    CHECK(bench.answer("arrive.ground") == nullptr);
    CHECK(bench.rig.view().at_hand->state.entries == before);
    // A second touch is no better and says so too.
    bench.finger.tap("grade/sound");
    CHECK(bench.finger.sees("nothing more is kept"));
    CHECK(bench.answer("arrive.ground") == nullptr);

    disk.heal();
    bench.rig.reopen();
    bench.rig.finger().tap("who");
    bench.rig.finger().tap("people/list/P-011");
    FormWalker(bench.rig.finger(), bench.rig.session()).pin("pin_own", kTestPin);
    bench.rig.finger().tap("round/QM-0101");
    CHECK(ui::answer_at(bench.rig.view(), "arrive.ground") == nullptr);
    CHECK(bench.rig.view().at_hand->state.entries == before);
    bench.rig.finger().tap("arrive.ground");
    bench.rig.finger().tap("grade/watch");
    CHECK(bench.rig.finger().sees("Kept on this tablet"));
    CHECK(bench.rig.view().at_hand->state.entries == before + 1);
}
