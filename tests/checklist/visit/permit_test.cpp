// A permit from prepared to cancelled: what is refused on the way, what is in force when, what is signed.
#include "checklist/model/canonical.hpp"
#include "checklist/visit/permit_facts.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/permit_story.hpp"
#include "tests/support/shipped.hpp"

#include <nlohmann/json.hpp>

using namespace crossarm;
using namespace crossarm::model::permit;
using namespace crossarm::visit::permit;
using tests::clock_at;
using tests::PermitStory;
using tests::structure_id;

namespace {

std::string no_to(const PermitStory& story, const Act& act, const std::string& by, const Rules& rules = {}) {
    const auto powers = tests::four_people();
    const auto refused =
        refusal({rules, powers, story.state, act, by, clock_at(story.minute + 1), structure_id()});
    return refused ? refused->why.key : "";
}

std::string next_step(const State& state, const Rules& rules, int minute) {
    for (const Step& step : steps(state, rules, clock_at(minute))) {
        if (!step.done) {
            return step.id;
        }
    }
    return "";
}

const model::Words& permit_words() {
    static const model::Words words = [] {
        model::Words all;
        const std::string name = "permit_reasons.json";
        const auto done = all.add(
            tests::text_of_file(std::filesystem::path(CROSSARM_SOURCE_DIR) / "assets/words/en" / name), name);
        REQUIRE(done.ok());
        return all;
    }();
    return words;
}

} // namespace

TEST_CASE("a whole permit in its order is refused nothing and ends closed") {
    PermitStory story;
    story.working().cancelled();
    REQUIRE(story.refused.size() == 0);
    CHECK(bars_supply(story.state)->step == "control_earths");
    CHECK(earths_on(story.state) == 2);
    for (const char* earth : {"E-1", "E-2"}) {
        story.act(LineEndOff{earth}, "P-1").act(EarthEndOff{earth}, "P-1");
    }
    CHECK(is_closed(story.state));
    CHECK_FALSE(bars_supply(story.state, false));
    CHECK(bars_supply(story.state)->step == "locks");
    for (const char* point : {"HV1", "HV2", "LV1"}) {
        story.act(PointUnlocked{point}, "P-1");
    }
    CHECK(story.refused.empty());
    CHECK_FALSE(bars_supply(story.state));
    CHECK(next_step(story.state, {}, story.minute).empty());
}

TEST_CASE("the next step follows the order of making dead, and at most nine lines lead either way") {
    // Disconnect, secure, verify, earth, guard against live parts: EN 50110-1, 6.2, second hand.
    PermitStory story;
    CHECK(next_step(story.state, {}, 0) == "prepare");
    story.act(Prepared{"4711", "Work", "Limits"}, "P-1");
    CHECK(next_step(story.state, {}, 1) == "points");
    story = PermitStory();
    story.locked();
    CHECK(next_step(story.state, {}, story.minute) == "supplies");
    story.asked();
    CHECK(next_step(story.state, {}, story.minute) == "proof_hv");
    story.proved(Side::Hv);
    CHECK(next_step(story.state, {}, story.minute) == "proof_lv");
    story.proved(Side::Lv);
    CHECK(next_step(story.state, {}, story.minute) == "earths");
    story.earth("E-1", Side::Hv).earth("E-2", Side::Lv);
    CHECK(next_step(story.state, {}, story.minute) == "zone");
    story.act(LivePartNoted{"Line", 2.4}, "P-1").act(ZoneMarked{"Tape"}, "P-1");
    CHECK(next_step(story.state, {}, story.minute) == "issue");
    story.issued();
    CHECK(next_step(story.state, {}, story.minute) == "accept");
    CHECK(story.refused.empty());
    story = PermitStory();
    story.working();
    CHECK(next_step(story.state, {}, story.minute) == "people");
    story.cleared();
    CHECK(next_step(story.state, {}, story.minute) == "hand_back");

    for (const bool after : {true, false}) {
        Rules rules;
        rules.control_earths_off_after_cancelling = after;
        const auto lines = steps(story.state, rules, clock_at(story.minute));
        CHECK(lines.size() == 16);
        CHECK(lines[8].id == "accept");
        CHECK(lines[13].id == (after ? "cancel" : "control_earths"));
    }
}

TEST_CASE("an earth goes on with the earth end first and comes off in reverse") {
    // 29 CFR 1910.269(n)(6)(i) and (ii): on, the ground end first; off, the line end first.
    PermitStory story;
    story.locked().asked().proved(Side::Hv);
    CHECK(no_to(story, LineEndOn{"E-1"}, "P-1") == "permit.no.earth_end_first");
    story.act(EarthEndOn{"E-1", EarthKind::Control, Side::Hv, "", "Pole A", "P-4", 70.0}, "P-1");
    CHECK(no_to(story, LineEndOn{"E-1"}, "P-1").empty());
    story.act(LineEndOn{"E-1"}, "P-1");
    CHECK(no_to(story, EarthEndOff{"E-1"}, "P-1") == "permit.no.line_end_first");
    story.act(LineEndOff{"E-1"}, "P-1");
    CHECK(no_to(story, EarthEndOff{"E-1"}, "P-1").empty());
    // With the last line end off nothing is proved any more: (n)(5), test before any earth is put on.
    CHECK(no_to(story, LineEndOn{"E-1"}, "P-1") == "permit.no.prove_first");
    CHECK(story.refused.empty());
}

TEST_CASE("a proof that is older than the rules allow counts no longer") {
    for (const int minutes : {0, 14, 15, 16, 600, -5}) {
        PermitStory story;
        story.locked().asked().proved(Side::Hv);
        const int proved_at = story.minute;
        story.state.earths.push_back(
            {"E-1", EarthKind::Control, Side::Hv, "", "Pole A", "P-4", 70.0, true, false, {}});
        story.minute = proved_at + minutes - 1;
        INFO(minutes);
        CHECK(no_to(story, LineEndOn{"E-1"}, "P-1").empty() == (minutes >= 0 && minutes <= 15));
    }
}

TEST_CASE("an indication or a detector that fails afterwards throws the whole proof away") {
    for (const Act& act : std::vector<Act>{ConductorTested{Side::Hv, "B", "indicated"},
                                           ConductorTested{Side::Hv, "B", "not_reached"},
                                           DetectorProved{Side::Hv, "D-3", true, false}}) {
        PermitStory story;
        story.locked().asked();
        story.act(DetectorProved{Side::Hv, "D-3", false, true}, "P-1");
        for (const char* conductor : {"A", "B", "C"}) {
            story.act(ConductorTested{Side::Hv, conductor, "none"}, "P-1");
        }
        story.act(act, "P-1");
        CHECK(story.refused.empty());
        CHECK(no_to(story, ConductorTested{Side::Hv, "A", "none"}, "P-1") == "permit.no.detector_first");
        CHECK_FALSE(is_whole(story.state.hv, Side::Hv));
    }
}

TEST_CASE("in force only while accepted, in time, on a clock that was not set back, and nothing irregular") {
    PermitStory story;
    story.ready();
    CHECK_FALSE(in_force(story.state, {}, clock_at(story.minute)));
    story.issued();
    CHECK_FALSE(in_force(story.state, {}, clock_at(story.minute)));
    const State issued = story.state;
    story = PermitStory();
    story.ready().accepted();
    const int accepted = story.minute;
    struct Moment {
        int minute;
        bool force;
    };
    for (const Moment& m : {Moment{accepted, true}, Moment{479, true}, Moment{480, false},
                            Moment{2000, false}, Moment{accepted - 1, false}}) {
        INFO(m.minute);
        CHECK(in_force(story.state, {}, clock_at(m.minute)) == m.force);
    }
    State strange = story.state;
    strange.irregular = 1;
    CHECK_FALSE(in_force(strange, {}, clock_at(accepted)));
    story.act(Suspended{"", "Smoke"}, "P-4");
    CHECK_FALSE(in_force(story.state, {}, clock_at(story.minute)));
    CHECK(has_begun(issued));
    CHECK_FALSE(has_begun(PermitStory().act(Prepared{"1", "w", "l"}, "P-1").state));
}

TEST_CASE("time says what has run out, who is still on and that the clock was set back") {
    const auto keys = [](const State& state, int minute) {
        std::vector<std::string> all;
        for (const auto& fact : time_facts(state, {}, clock_at(minute))) {
            CHECK(permit_words().say(fact).find('{') == std::string::npos);
            all.push_back(fact.key);
        }
        return all;
    };
    PermitStory story;
    story.working();
    using Keys = std::vector<std::string>;
    CHECK(keys(story.state, 479).empty());
    CHECK(keys(story.state, 480) == Keys{"permit.time.run_out", "permit.time.people_on"});
    CHECK(keys(story.state, 1 + 12 * 60 + 60) ==
          Keys{"permit.time.run_out", "permit.time.people_on", "permit.time.too_long"});
    CHECK(keys(story.state, story.minute - 1) == Keys{"permit.time.clock_back"});
    // Midnight and another offset change nothing: moments are compared, not what clocks show.
    model::Timestamp elsewhere = clock_at(479);
    elsewhere.offset_minutes = -600;
    CHECK(time_facts(story.state, {}, elsewhere).empty());
    CHECK(in_force(story.state, {}, elsewhere));
}

TEST_CASE("what is refused has a reason in words and the step that mends it") {
    for (const tests::Behaviour& row : tests::behaviours()) {
        INFO(row.guard << ", " << row.what);
        const auto wished = tests::wished(row);
        const auto refused = refusal(wished.ask());
        REQUIRE(refused.has_value());
        CHECK(refused->why.key == row.key);
        CHECK(refused->step == row.step);
        CHECK(permit_words().has(refused->why.key));
        CHECK(permit_words().say(refused->why).find('{') == std::string::npos);
    }
}

TEST_CASE("control earths come off when the utility's rules say so") {
    Rules before;
    before.control_earths_off_after_cancelling = false;
    PermitStory story;
    story.working();
    CHECK(no_to(story, LineEndOff{"E-1"}, "P-1") == "permit.no.party_holds");
    CHECK(no_to(story, LineEndOff{"E-1"}, "P-1", before) == "permit.no.party_holds");
    story.handed_back();
    CHECK(no_to(story, LineEndOff{"E-1"}, "P-1") == "permit.no.cancel_first");
    CHECK(no_to(story, LineEndOff{"E-1"}, "P-1", before).empty());
    CHECK(no_to(story, Cancelled{"P-2", story.signing()}, "P-1").empty());
    CHECK(no_to(story, Cancelled{"P-2", story.signing()}, "P-1", before) == "permit.no.earths_on");
}

TEST_CASE("a second party keeps the permit from being cancelled and the earths on") {
    PermitStory story;
    story.ready().accepted("A", "P-3").accepted("B", "P-2");
    story.act(HandedBack{"A", "", story.signing()}, "P-3");
    CHECK(story.refused.empty());
    CHECK(no_to(story, Cancelled{"P-2", story.signing()}, "P-1") == "permit.no.party_holds");
    CHECK(no_to(story, LineEndOff{"E-1"}, "P-1", Rules{}) == "permit.no.party_holds");
    CHECK(bars_supply(story.state)->step == "hand_back");
    story.act(HandedBack{"B", "", story.signing()}, "P-2");
    CHECK(no_to(story, Cancelled{"P-2", story.signing()}, "P-1").empty());
}

TEST_CASE("stopped, transferred, extended: the new holder accepts, the old one cannot hand back") {
    PermitStory story;
    story.ready().accepted();
    story.act(Suspended{"A", "Holder taken ill"}, "P-4");
    story.act(Transferred{"A", "P-2"}, "P-1");
    CHECK(no_to(story, HandedBack{"A", "", story.signing()}, "P-3") == "permit.no.not_accepted");
    CHECK(no_to(story, Accepted{"A", story.signing()}, "P-3") == "permit.no.not_holder");
    story.act(Accepted{"A", story.signing()}, "P-2");
    story.act(Extended{"A", clock_at(600)}, "P-1");
    CHECK(no_to(story, Extended{"A", clock_at(700)}, "P-2") == "permit.no.own_permit");
    CHECK(no_to(story, Extended{"A", clock_at(2000)}, "P-1") == "permit.no.too_long");
    story.act(HandedBack{"A", "", story.signing()}, "P-2");
    CHECK(story.refused.empty());
}

TEST_CASE("where an earth cannot be fitted a lead decides, while the side is just proved and nobody works") {
    PermitStory story;
    story.locked().asked().proved(Side::Lv).earth("E-2", Side::Lv);
    story.act(LivePartNoted{"Line", 2.4}, "P-1").act(ZoneMarked{"Tape"}, "P-1").proved(Side::Hv);
    const auto issue = [&] { return Issued{"A", "P-3", clock_at(480), "P-2", story.signing()}; };
    CHECK(no_to(story, issue(), "P-1") == "permit.no.earth_hv");
    CHECK(no_to(story, LeadDecided{"earth_not_fitted", "hv", "No room"}, "P-3") == "permit.no.lead_only");
    story.act(LeadDecided{"earth_not_fitted", "hv", "No room"}, "P-2");
    CHECK(no_to(story, issue(), "P-1").empty());
    story.minute += 20;
    CHECK(no_to(story, issue(), "P-1") == "permit.no.prove_again");
    story.proved(Side::Hv);
    story.issued().act(Accepted{"A", story.signing()}, "P-3");
    CHECK(story.refused.empty());
    CHECK(in_force(story.state, {}, clock_at(story.minute)));
}

TEST_CASE("a tool that is not found keeps the permit out until a lead has decided") {
    PermitStory story;
    story.working().act(ToolsIn{"A", 4}, "P-3").act(LineEndOff{"W-1"}, "P-4").act(EarthEndOff{"W-1"}, "P-4");
    story.act(SignedOff{"P-4", ""}, "P-4");
    CHECK(no_to(story, HandedBack{"A", "", story.signing()}, "P-3") == "permit.no.tools_missing");
    CHECK(no_to(story, LeadDecided{"tools_not_found", "A", "Fell into the river"}, "P-1") ==
          "permit.no.stop_first");
    story.act(Suspended{"A", "A spanner is missing"}, "P-3");
    story.act(LeadDecided{"tools_not_found", "A", "Fell into the river"}, "P-1");
    CHECK(no_to(story, HandedBack{"A", "", story.signing()}, "P-3").empty());
    CHECK(story.refused.empty());
}

TEST_CASE("the sheet is canonical, and goes stale with what stands on it and with nothing else") {
    PermitStory story;
    story.ready().accepted();
    const std::string sheet = sheet_text(story.state, structure_id());
    CHECK(sheet == model::canonical(nlohmann::json::parse(sheet)));
    CHECK(sheet != sheet_text(story.state, "QM-0102"));
    CHECK(stale(story.state, structure_id()).empty());

    PermitStory worked;
    worked.working();
    CHECK(stale(worked.state, structure_id()).empty()); // people, tools and working earths are not on it
    worked.cancelled().act(LineEndOff{"E-1"}, "P-1");
    CHECK(stale(worked.state, structure_id()).empty()); // nobody holds it any more

    story.act(Suspended{"", "Another earth is wanted"}, "P-3");
    story.act(EarthEndOn{"E-3", EarthKind::Control, Side::Hv, "", "Pole B", "P-4", 70.0}, "P-1");
    CHECK(stale(story.state, structure_id()).empty());
    story.act(LineEndOn{"E-3"}, "P-1");
    CHECK(stale(story.state, structure_id()) == std::vector<std::string>{"A"});
    CHECK(no_to(story, Resumed{"A"}, "P-1") == "permit.no.sheet_changed");
    CHECK(no_to(story, HandedBack{"A", "", story.signing()}, "P-3").empty());
}

TEST_CASE("the utility's rules come from its set; what is open or absurd stays cautious") {
    model::LimitLibrary limits;
    CHECK(rules_from(limits, {}) == Rules{});
    // 29 CFR 1910.269(m): earths off before release; (n)(4)(i): not less than No. 2 AWG copper, 33.6 mm².
    limits.sets = {tests::shipped_limits("permit-osha-1910-269")};
    Rules rules = rules_from(limits, {});
    CHECK_FALSE(rules.control_earths_off_after_cancelling);
    CHECK(rules.least_mm2_hv == 33.6);
    CHECK(rules.least_mm2_lv == 33.6);
    CHECK(rules.earth_lv_too);
    CHECK(rules.most_hours == 12.0);
    CHECK(rules.set == "permit-osha-1910-269");
    limits.sets = {tests::shipped_limits("permit-guidance")};
    CHECK(rules_from(limits, {}).control_earths_off_after_cancelling);

    // ASTM F855, Table 1: 2/0 copper (67.4 mm²) withstands 20 kA for 30 cycles of 60 Hz (0.5 s), 1/0 15 kA.
    auto utility = tests::shipped_limits("permit-guidance");
    utility.limits.push_back({"fault.hv", {16.0, model::Unit::KiloAmpere}, "-", "read", ""});
    utility.limits.push_back({"clearing.hv", {0.5, model::Unit::Second}, "-", "read", ""});
    limits.sets = {utility, tests::shipped_limits("astm-f855")};
    CHECK(rules_from(limits, {}).least_mm2_hv == Approx(0.99 * 67.4));
    CHECK(rules_from(limits, {}).least_mm2_lv == 33.6);

    auto absurd = tests::shipped_limits("permit-guidance");
    for (auto& limit : absurd.limits) {
        limit.value.value = -1e9;
    }
    limits.sets = {absurd};
    Rules cautious;
    cautious.set = "permit-guidance";
    CHECK(rules_from(limits, {}) == cautious);
}

TEST_CASE("who may do what on the day comes from the register") {
    model::Register reg;
    reg.people = {{"P-1", "A", {"lead"}, {{"issue_permit", {100}}}},
                  {"P-2", "B", {"crew"}, {{"accept_permit", {99}}}}};
    const Powers powers = powers_on(reg, {100});
    CHECK(powers.known.size() == 2);
    CHECK(powers.may_issue.contains("P-1"));
    CHECK(powers.may_accept.empty()); // ran out yesterday
    CHECK(powers.leads.contains("P-1"));
}

TEST_CASE("an act about something that is not there changes nothing but the time") {
    PermitStory story;
    story.ready();
    for (const Act& act : std::vector<Act>{
             PointOpened{"X", "p"}, PointLocked{"X", "l", "l", "k"}, PointUnlocked{"X"}, LineEndOn{"X"},
             LineEndOff{"X"}, EarthEndOff{"X"}, Accepted{"X", {}}, Suspended{"X", "r"}, Resumed{"X"},
             Transferred{"X", "P-3"}, Extended{"X", {}}, TakenBack{"X"}, SignedOn{"X", "P-3"},
             SignedOff{"P-3", ""}, ToolsOut{"X", 1}, ToolsIn{"X", 1}, HandedBack{"X", "", {}}}) {
        INFO(name(act));
        State after = apply(story.state, act, "P-1", clock_at(9));
        CHECK(after == story.state);
    }
}
