// A permit by finger, from prepare to the last lock off; what is refused on the way; and every face of it on
// every glass: nothing cut, nothing overlapping, everything large enough.
#include "tests/support/catch.hpp"
#include "tests/support/permit_bench.hpp"
#include "tests/support/wrong_with.hpp"

#include <functional>

using namespace crossarm;
using namespace crossarm::tests;
using visit::permit::Holding;

namespace {

using Seen = std::function<void(const std::string&)>;
const Seen kNothing = [](const std::string&) {};

void isolate(PermitBench& b, const Seen& seen = kNothing) {
    b.go(ui::Screen::Permit);
    seen("overview-empty");
    b.open("prepare", "prepared");
    seen("form-number");
    b.pick("number", "offered");
    b.pick("work", "upkeep");
    b.pick("limits", "this_structure");
    seen("form-prepared");
    b.confirm();
    REQUIRE(b.permit().prepared);
    for (const char* side : {"hv", "lv"}) {
        b.open("points", "point_added");
        b.pick("side", side);
        b.pick("device", std::string(side) == "hv" ? "fuses" : "breaker");
        b.pick("place", "this_structure");
        b.confirm();
    }
    for (const char* point : {"HV1", "LV1"}) {
        const std::string id = point;
        b.open("points", "point_opened:" + id);
        b.pick("position", "gap_seen");
        b.confirm();
        b.open("points", "point_locked:" + id);
        b.write("lock", "L-7");
        b.write("label", "T 12");
        seen("form-key-held-by");
        b.pick("key_held_by", "P-016");
        b.confirm();
        seen("step-points");
    }
    b.open("supplies", "supplies_asked");
    for (const char* one : {"generators", "solar", "ring"}) {
        b.pick(one, "none");
    }
    b.pick("asked_of", "control_room");
    b.confirm();
}

void prove(PermitBench& b, const std::string& side, const std::string& detector, bool known) {
    const std::string step = "proof_" + side;
    b.open(step, "detector_proved:" + side);
    if (known) {
        b.pick("detector", detector);
    } else {
        b.write("detector", detector);
    }
    b.pick("indicated", "yes");
    b.confirm();
    for (const char* conductor : {"A", "B", "C", "N"}) {
        if (side == "hv" && *conductor == 'N') {
            continue;
        }
        b.open(step, "conductor_tested:" + side + "/" + conductor);
        b.pick("result", "none");
        b.confirm();
    }
    b.open(step, "detector_proved:" + side + "/after");
    b.pick("indicated", "yes");
    b.confirm();
}

void put_on(PermitBench& b, const std::string& tag, const std::string& side, const std::string& kind,
            const Seen& seen = kNothing) {
    const std::string step = kind == "control" ? "earths" : "working_earths";
    b.open(step, "earth_end_on");
    b.write("earth", tag);
    b.pick("side", side);
    b.pick("kind", kind);
    if (kind == "working") {
        b.pick("party", "A");
    }
    b.pick("place", "this_structure");
    seen("form-earth-size");
    b.pick("size", "95");
    b.pick("fixed_by", "P-011");
    seen("form-earth-whole");
    b.confirm();
    b.open(step, "line_end_on:" + tag);
    b.confirm();
}

void brief(PermitBench& b, const Seen& seen = kNothing) {
    for (const char* person : {"P-003", "P-007", "P-011"}) {
        b.go(ui::Screen::Briefing, "", std::string("briefed:") + person);
        b.pick("own_task", "said");
        seen("briefing-pin");
        b.pin(person);
        b.confirm();
        REQUIRE(b.permit().briefed.contains(person));
    }
    b.finish_briefing();
}

void up_to_issue(PermitBench& b, const Seen& seen = kNothing) {
    brief(b, seen);
    isolate(b, seen);
    prove(b, "hv", "D-7", false);
    prove(b, "lv", "D-7", true);
    put_on(b, "E 1", "hv", "control", seen);
    put_on(b, "E 2", "lv", "control");
    b.open("zone", "live_part_noted");
    b.pick("what", "line_above");
    seen("form-distance");
    b.number("distance", "3.5");
    b.confirm();
    b.open("zone", "zone_marked");
    b.pick("how", "tape");
    b.confirm();
    seen("overview-ready");
}

void issue(PermitBench& b, const Seen& seen = kNothing) {
    b.open("issue", "issued");
    seen("form-issue-sheet");
    b.pick("holder", "P-011");
    b.pick("hours", "4");
    b.pick("second", "P-021");
    b.finger().settle();
    seen("form-signature-empty");
    b.finger().sign("form/signature/pad");
    seen("form-signature");
    b.finger().tap("form/signature/keep");
    b.pin("P-016");
    seen("form-pin");
    b.pin("P-021");
    seen("form-issue-hold");
    b.hold();
    REQUIRE(b.permit().parties.size() == 1);
}

void accept(PermitBench& b, const std::string& holder = "P-011") {
    b.open("accept", "accepted:A");
    b.sign();
    b.pin(holder);
    b.hold();
    REQUIRE(b.permit().parties.front().holding == Holding::Accepted);
}

void put_back(PermitBench& b, const std::string& holder = "P-011", const Seen& seen = kNothing) {
    b.open("hand_back", "handed_back:A");
    b.pick("remarks", "clear");
    b.sign();
    b.pin(holder);
    seen("form-hand-back");
    b.hold();
    b.open("cancel", "cancelled");
    b.pick("second", "P-021");
    b.sign();
    b.pin("P-016");
    b.pin("P-021");
    b.hold();
    REQUIRE(b.permit().cancelled);
    for (const char* tag : {"E 1", "E 2"}) {
        b.open("control_earths", std::string("line_end_off:") + tag);
        b.confirm();
        b.open("control_earths", std::string("earth_end_off:") + tag);
        b.confirm();
    }
    for (const char* point : {"HV1", "LV1"}) {
        b.open("locks", std::string("point_unlocked:") + point);
        b.confirm();
    }
    seen("overview-closed");
    CHECK(visit::permit::is_closed(b.permit()));
    CHECK(b.permit().irregular == 0);
}

void work(PermitBench& b, const Seen& seen = kNothing) {
    b.open("people", "signed_on:A");
    b.pick("person", "P-003");
    b.pin("P-003");
    b.confirm();
    b.open("tools", "tools_out:A");
    b.number("count", "14");
    b.confirm();
    seen("step-tools");
}

void sign_off(PermitBench& b) {
    b.open("people", "signed_off:P-003");
    b.pick("said_by", "self");
    b.pin("P-003");
    b.confirm();
}

void tools_in(PermitBench& b) {
    b.open("tools", "tools_in:A");
    b.number("count", "14");
    b.confirm();
}

} // namespace

TEST_CASE("a whole permit by touch, straight") {
    PermitBench b;
    up_to_issue(b);
    issue(b);
    CHECK_FALSE(b.finger().has("stop_work"));
    accept(b);
    CHECK(b.finger().has("stop_work"));
    work(b);
    sign_off(b);
    tools_in(b);
    put_back(b);
}

TEST_CASE("a whole permit by touch, with refusals, a stop, resuming, transfer and extension") {
    PermitBench b;
    up_to_issue(b);
    issue(b);
    // Not the holder's PIN: nothing is kept, and all PINs are asked again.
    b.open("accept", "accepted:A");
    b.sign();
    const std::size_t before = b.entries();
    b.pin("P-011", "999999");
    b.hold();
    CHECK(b.entries() == before);
    CHECK(b.finger().sees("Wrong PIN of Jory Pellam."));
    b.pin("P-011");
    b.hold();
    REQUIRE(b.permit().parties.front().holding == Holding::Accepted);
    work(b);
    // No hand-back while somebody is on and tools are out: the key says why and cannot be held.
    b.open("hand_back", "handed_back:A");
    b.pick("remarks", "clear");
    b.sign();
    b.pin("P-011");
    CHECK_FALSE(b.finger().item("form/confirm").enabled);
    CHECK(b.finger().item("form/confirm").why_disabled == "Signed on with party A: 1.");
    // One touch stops the work.
    b.finger().tap("stop_work");
    CHECK(b.permit().parties.front().holding == Holding::Suspended);
    CHECK_FALSE(b.finger().has("stop_work"));
    b.open("party:A", "transferred:A");
    b.pick("holder", "P-007");
    b.pin("P-016");
    CHECK(b.finger().item("form/confirm").why_disabled == "Ennis Varrow is still signed on.");
    sign_off(b);
    // Resumed, it has to be accepted again.
    b.open("party:A", "resumed:A");
    b.pin("P-016");
    b.confirm();
    REQUIRE(b.permit().parties.front().holding == Holding::Issued);
    accept(b);
    b.finger().tap("stop_work");
    b.open("party:A", "transferred:A");
    b.pick("holder", "P-007");
    b.pin("P-016");
    b.confirm();
    b.open("party:A", "extended:A");
    b.pick("hours", "6");
    b.pin("P-016");
    b.confirm();
    accept(b, "P-007");
    tools_in(b);
    put_back(b, "P-007");
}

TEST_CASE("a tap on an answer asks it again, and what was signed or proved by PIN for it is asked anew") {
    PermitBench b;
    up_to_issue(b);
    b.open("issue", "issued");
    b.pick("holder", "P-011");
    b.pick("hours", "4");
    b.pick("second", "P-021");
    b.sign();
    b.pin("P-016");
    b.finger().tap("form/answered/hours");
    CHECK(b.finger().has("form/hours/choice/6"));
    b.pick("hours", "6");
    CHECK(b.finger().has("form/signature/pad/box"));
    b.sign();
    CHECK(b.finger().has("form/pin_P-016/pad/done"));
}

TEST_CASE("every face of the permit on every glass can be read and touched") {
    struct Look {
        Glass glass;
        bool glove;
    };
    for (const Look& look : {Look{{1280, 800, 5.88F}, false}, Look{{800, 1280, 5.88F}, true},
                             Look{{1280, 800, 7.43F}, true}, Look{{800, 1280, 7.43F}, false}}) {
        PermitBench b({.glass = look.glass, .glove = look.glove});
        std::vector<std::string> wrong;
        const Seen seen = [&](const std::string& name) {
            b.finger().settle();
            b.picture(name);
            for (const std::string& one : wrong_with(b.finger().items(), look.glass, look.glove)) {
                wrong.push_back(name + ": " + one);
            }
        };
        const auto look_at = [&](const ui::Place& place, const std::string& name) {
            b.go(place);
            seen(name);
        };
        const auto step = [&](const std::string& id) {
            look_at({ui::Screen::Permit, "QM-0101", id, ""}, "step-" + id.substr(0, id.find(':')));
        };
        up_to_issue(b, seen);
        look_at({ui::Screen::Briefing, "QM-0101", "", ""}, "briefing");
        step("proof_hv");
        step("proof_lv");
        step("earths");
        step("zone");
        issue(b, seen);
        step("accept");
        accept(b);
        step("people");
        work(b, seen);
        look_at({ui::Screen::Permit, "QM-0101", "", ""}, "overview-working");
        step("party:A");
        step("lead");
        b.go(ui::Screen::Permit, "lead", "lead_decided");
        seen("form-lead");
        b.finger().tap("stop_work");
        look_at({ui::Screen::Permit, "QM-0101", "", ""}, "overview-suspended");
        step("hand_back");
        look_at({ui::Screen::People, "QM-0101", "", ""}, "people");
        look_at({ui::Screen::People, "QM-0101", "", "take:P-003"}, "people-pin");
        look_at({ui::Screen::People, "QM-0101", "", "first:P-032"}, "people-witness");
        b.pick("witness", "P-021");
        seen("people-first-pin");
        for (const std::string& one : wrong) {
            UNSCOPED_INFO(one);
        }
        INFO(look.glass.width_px << " at " << look.glass.px_per_mm << ", glove " << look.glove);
        CHECK(wrong.empty());
    }
}
