#include "tests/proof/world.hpp"

#include "checklist/model/result.hpp"

namespace crossarm::proof {

namespace {

using namespace model::permit;

const std::vector<std::string> kPeople = {"1", "2", "3"};
const Signing kSigned = {"s", "s"};
const model::Timestamp kShort = {4 * 3'600'000, 0};    // over at the second moment
const model::Timestamp kLong = {10 * 3'600'000, 0};    // over at the third
const model::Timestamp kLate = {24 * 3'600'000, 0};    // for a first issue at the third moment
const model::Timestamp kTooLong = {14 * 3'600'000, 0}; // longer than the rules allow from the first moment

/// 1 issues and leads; 2 issues, accepts and leads; 3 accepts.
visit::permit::Powers powers() {
    return {{"1", "2", "3"}, {"1", "2"}, {"2", "3"}, {"1", "2"}};
}

void add(World& w, const std::string& name, const Act& act, const std::string& by) {
    w.moves.push_back({name + " by " + by, {{act, by}}});
}

std::vector<Wish> proof_of(Side side, const std::string& by) {
    std::vector<Wish> all = {{DetectorProved{side, "D", false, true}, by}};
    for (const std::string_view conductor : visit::permit::conductors(side)) {
        all.push_back({ConductorTested{side, std::string(conductor), "none"}, by});
    }
    all.push_back({DetectorProved{side, "D", true, true}, by});
    return all;
}

EarthEndOn control(const std::string& id, Side side) {
    return {id, EarthKind::Control, side, "", "p", "1", 70.0};
}

void add_control_earth(World& w, const std::string& id, Side side) {
    add(w, id + " earth end on", control(id, side), "1");
    add(w, id + " line end on", LineEndOn{id}, "1");
    add(w, id + " line end off", LineEndOff{id}, "1");
    add(w, id + " earth end off", EarthEndOff{id}, "1");
}

void add_ends(World& w) {
    add(w, "cancel", Cancelled{"2", kSigned}, "1");
    add(w, "cancel alone", Cancelled{"1", kSigned}, "1");
    add(w, "cancel", Cancelled{"1", kSigned}, "3");
    add(w, "no earth can be fitted on HV", LeadDecided{"earth_not_fitted", "hv", "r"}, "1");
    add(w, "no earth can be fitted on HV", LeadDecided{"earth_not_fitted", "hv", "r"}, "2");
    add(w, "no earth can be fitted on LV", LeadDecided{"earth_not_fitted", "lv", "r"}, "1");
}

void carry_out(World& w, const Act& act, const std::string& by) {
    w.start = visit::permit::apply(w.start, act, by, moment(0));
}

std::string rule_name(bool off_after_cancelling) {
    return std::string("control earths off ") + (off_after_cancelling ? "after" : "before") + " cancelling";
}

const std::vector<std::pair<std::string, Side>> kPoints = {
    {"H1", Side::Hv}, {"H2", Side::Hv}, {"L1", Side::Lv}};

void lock_points(World& w) {
    carry_out(w, Prepared{"n", "w", "l"}, "1");
    for (const auto& [point, side] : kPoints) {
        carry_out(w, PointAdded{point, "d", "p", side}, "1");
        carry_out(w, PointOpened{point, "p"}, "1");
        carry_out(w, PointLocked{point, "l", "l", "1"}, "1");
    }
}

void add_one_party(World& w) {
    add(w, "issue A", Issued{"A", "3", kShort, "2", kSigned}, "1");
    add(w, "issue A for longer", Issued{"A", "3", kLate, "2", kSigned}, "1");
    add(w, "accept A", Accepted{"A", kSigned}, "3");
    add(w, "suspend", Suspended{"", "r"}, "3");
    add(w, "resume A", Resumed{"A"}, "1");
    add(w, "hand back A", HandedBack{"A", "", kSigned}, "3");
    add(w, "take back A", TakenBack{"A"}, "1");
}

// Also what must be refused: to oneself, to one who may not, by one who may not, without a second person, for
// too long.
void add_holding(World& w, const std::string& party) {
    add(w, "issue " + party + " to 3", Issued{party, "3", kShort, "2", kSigned}, "1");
    add(w, "issue " + party + " to 2", Issued{party, "2", kShort, "3", kSigned}, "1");
    add(w, "issue " + party + " to 3", Issued{party, "3", kShort, "1", kSigned}, "2");
    add(w, "issue " + party + " to 3 for longer", Issued{party, "3", kLong, "2", kSigned}, "1");
    add(w, "issue " + party + " to oneself", Issued{party, "2", kShort, "1", kSigned}, "2");
    add(w, "issue " + party + " to 1", Issued{party, "1", kShort, "3", kSigned}, "2");
    add(w, "issue " + party + " by 3", Issued{party, "2", kShort, "1", kSigned}, "3");
    add(w, "issue " + party + " alone", Issued{party, "3", kShort, "1", kSigned}, "1");
    add(w, "issue " + party + " too long", Issued{party, "3", kTooLong, "2", kSigned}, "1");
    for (const std::string by : {"2", "3"}) {
        add(w, "accept " + party, Accepted{party, kSigned}, by);
        add(w, "hand back " + party, HandedBack{party, "", kSigned}, by);
    }
    add(w, "suspend " + party, Suspended{party, "r"}, "3");
    for (const std::string by : {"1", "2"}) {
        add(w, "resume " + party, Resumed{party}, by);
        add(w, "extend " + party, Extended{party, kLong}, by);
    }
    add(w, "extend " + party + " back", Extended{party, kShort}, "1");
    add(w, "extend " + party + " too long", Extended{party, kTooLong}, "1");
    for (const std::string holder : {"1", "2", "3"}) {
        add(w, "transfer " + party + " to " + holder, Transferred{party, holder}, "1");
    }
    add(w, "transfer " + party + " to 3", Transferred{party, "3"}, "2");
    add(w, "take back " + party, TakenBack{party}, "1");
    add(w, "take back " + party, TakenBack{party}, "3");
}

void add_people(World& w, const std::string& party) {
    for (const std::string& person : kPeople) {
        add(w, person + " signs on with " + party, SignedOn{party, person}, person);
    }
    add(w, "2 signs 3 on with " + party, SignedOn{party, "3"}, "2");
}

void add_tool(World& w, const std::string& party) {
    w.moves.push_back({"tool out with " + party, {{ToolsOut{party, 1}, "3"}}, party});
    add(w, "tool in from " + party, ToolsIn{party, 1}, "3");
    for (const std::string& by : kPeople) {
        add(w, "tool of " + party + " not found", LeadDecided{"tools_not_found", party, "r"}, by);
    }
}

} // namespace

bool is_offered(const Move& move, const State& state) {
    for (const auto& party : state.parties) {
        if (party.id == move.only_one_tool_of) {
            return party.tools_out <= party.tools_in;
        }
    }
    const auto* tested = std::get_if<ConductorTested>(&move.wishes.front().act);
    if (tested == nullptr || tested->result != "none") {
        return true;
    }
    const auto& done = (tested->side == Side::Hv ? state.hv : state.lv).without_indication;
    const auto all = visit::permit::conductors(tested->side);
    return done.size() == all.size() ? tested->conductor == all.front()
                                     : tested->conductor == all[done.size()];
}

World points_world(bool off_after_cancelling) {
    World w;
    w.name = std::string("points, ") + rule_name(off_after_cancelling);
    w.rules.control_earths_off_after_cancelling = off_after_cancelling;
    w.powers = powers();
    w.moments = {0};
    add(w, "prepare", Prepared{"n", "w", "l"}, "1");
    add(w, "prepare", Prepared{"n", "w", "l"}, "3");
    for (const auto& [point, side] : kPoints) {
        add(w, point + " added", PointAdded{point, "d", "p", side}, "1");
        add(w, point + " opened", PointOpened{point, "p"}, "1");
        add(w, point + " locked", PointLocked{point, "l", "l", "1"}, "1");
        add(w, point + " unlocked", PointUnlocked{point}, "1");
    }
    add(w, "supplies", SuppliesAsked{"none", "none", "none", "o"}, "1");
    w.moves.push_back({"HV proved", proof_of(Side::Hv, "1")});
    w.moves.push_back({"LV proved", proof_of(Side::Lv, "1")});
    add_control_earth(w, "CH", Side::Hv);
    add_control_earth(w, "CL", Side::Lv);
    add(w, "live part noted", LivePartNoted{"w", 2.0}, "1");
    add(w, "zone marked", ZoneMarked{"h"}, "1");
    add_one_party(w);
    add_ends(w);
    return w;
}

World proving_world(bool off_after_cancelling, bool earth_lv_too) {
    World w;
    w.name = std::string("proving, ") + rule_name(off_after_cancelling) + ", LV earthed " +
             (earth_lv_too ? "always" : "where needed");
    w.rules.control_earths_off_after_cancelling = off_after_cancelling;
    w.rules.earth_lv_too = earth_lv_too;
    w.powers = powers();
    w.moments = {0, 2};
    lock_points(w);
    carry_out(w, LivePartNoted{"w", 2.0}, "1");
    carry_out(w, ZoneMarked{"h"}, "1");
    add(w, "supplies: none", SuppliesAsked{"none", "none", "none", "o"}, "1");
    add(w, "supplies: one cannot be locked", SuppliesAsked{"none", "earthed", "none", "o"}, "1");
    for (const Side side : {Side::Hv, Side::Lv}) {
        const std::string at = side == Side::Hv ? "HV" : "LV";
        add(w, at + " detector tried", DetectorProved{side, "D", false, true}, "1");
        add(w, at + " detector fails", DetectorProved{side, "D", false, false}, "1");
        for (const std::string_view conductor : visit::permit::conductors(side)) {
            add(w, at + " tested", ConductorTested{side, std::string(conductor), "none"}, "1");
        }
        add(w, at + " indicated", ConductorTested{side, "A", "indicated"}, "1");
        add(w, at + " detector tried again", DetectorProved{side, "D", true, true}, "1");
        add(w, at + " detector fails after", DetectorProved{side, "D", true, false}, "1");
        add(w, at + " another detector after", DetectorProved{side, "E", true, true}, "1");
    }
    add_control_earth(w, "CH", Side::Hv);
    add_control_earth(w, "CL", Side::Lv);
    add_one_party(w);
    add_ends(w);
    return w;
}

World parties_world(bool off_after_cancelling, bool two) {
    World w;
    w.name =
        (two ? "two parties, " : "one party until the hours are over, ") + rule_name(off_after_cancelling);
    w.rules.control_earths_off_after_cancelling = off_after_cancelling;
    w.powers = powers();
    w.moments = two ? std::vector<std::size_t>{0, 1} : std::vector<std::size_t>{0, 1, 2};
    lock_points(w);
    carry_out(w, SuppliesAsked{"none", "none", "none", "o"}, "1");
    for (const Side side : {Side::Hv, Side::Lv}) {
        for (const Wish& wish : proof_of(side, "1")) {
            carry_out(w, wish.act, wish.by);
        }
    }
    carry_out(w, LivePartNoted{"w", 2.0}, "1");
    carry_out(w, ZoneMarked{"h"}, "1");
    for (const std::string person : {"2", "3"}) { // 1 has not heard the briefing
        carry_out(w, Briefed{person}, person);
    }

    w.moves.push_back({"HV proved", proof_of(Side::Hv, "1")});
    w.moves.push_back({"LV proved", proof_of(Side::Lv, "1")});
    add_control_earth(w, "CH", Side::Hv);
    w.moves.push_back({"CL on", {{control("CL", Side::Lv), "1"}, {LineEndOn{"CL"}, "1"}}});
    w.moves.push_back({"CL off", {{LineEndOff{"CL"}, "1"}, {EarthEndOff{"CL"}, "1"}}});
    add_holding(w, "A");
    add_people(w, "A");
    add_tool(w, "A");
    if (two) {
        add_holding(w, "B");
        add_people(w, "B");
    }
    add(w, "stop work", Suspended{"", "r"}, "1");
    for (const std::string person : {"2", "3"}) {
        add(w, person + " signs off", SignedOff{person, ""}, person);
        add(w, person + " is signed off", SignedOff{person, "r"}, "1");
        add(w, person + " is signed off without a reason", SignedOff{person, ""}, "1");
    }
    add(w, "WE earth end on", EarthEndOn{"WE", EarthKind::Working, Side::Hv, "A", "p", "3", 70.0}, "3");
    add(w, "WE line end on", LineEndOn{"WE"}, "3");
    add(w, "WE line end off", LineEndOff{"WE"}, "3");
    add(w, "WE line end off", LineEndOff{"WE"}, "2");
    add(w, "WE earth end off", EarthEndOff{"WE"}, "3");
    add(w, "H1 unlocked", PointUnlocked{"H1"}, "1");
    add_ends(w);
    if (two) {
        w.moves.pop_back(); // that no earth can be fitted on LV: in the other worlds
    }
    return w;
}

} // namespace crossarm::proof
