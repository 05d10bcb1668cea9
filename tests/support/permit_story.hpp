// A permit on its way from nothing to cancelled, and acts that must be refused on that way.
#pragma once

#include "checklist/model/digest.hpp"
#include "checklist/visit/permit.hpp"

#include <functional>
#include <limits>
#include <string>
#include <vector>

namespace crossarm::tests {

using visit::permit::Act;
using visit::permit::State;

inline model::Timestamp clock_at(int minutes) {
    return {static_cast<std::int64_t>(minutes) * 60'000, 0};
}
inline const std::string& structure_id() {
    static const std::string id = "QM-0101";
    return id;
}
/// P-1 issues and leads, P-2 issues, accepts and leads, P-3 accepts, P-4 is crew.
inline visit::permit::Powers four_people() {
    return {{"P-1", "P-2", "P-3", "P-4"}, {"P-1", "P-2"}, {"P-2", "P-3"}, {"P-1", "P-2"}};
}

/// Carries acts out one after the other, a minute apart, whether or not they may be done.
class PermitStory {
public:
    State state;
    int minute = 0;
    std::vector<visit::permit::Refusal> refused; ///< what the guards would have said

    PermitStory& act(const Act& act, const std::string& by) {
        const visit::permit::Rules rules = rules_;
        const auto powers = four_people();
        ++minute;
        if (auto no =
                visit::permit::refusal({rules, powers, state, act, by, clock_at(minute), structure_id()})) {
            refused.push_back(*no);
        }
        state = visit::permit::apply(state, act, by, clock_at(minute));
        return *this;
    }
    [[nodiscard]] model::permit::Signing signing() const {
        return {model::sha256_hex(visit::permit::sheet_text(state, structure_id())), "0,0 300,0"};
    }
    PermitStory& rules(const visit::permit::Rules& rules) {
        rules_ = rules;
        return *this;
    }

    PermitStory& locked() {
        using namespace model::permit;
        act(Prepared{"4711", "Change the HV bushings", "Not beyond the jumpers"}, "P-1");
        for (const auto& [id, side] : {std::pair{"HV1", Side::Hv}, {"HV2", Side::Hv}, {"LV1", Side::Lv}}) {
            act(PointAdded{id, "Fuse switch", "Pole A", side}, "P-1");
            act(PointOpened{id, "Three tubes down, gap seen"}, "P-1");
            act(PointLocked{id, "L-7", "T-7", "P-1"}, "P-1");
        }
        return *this;
    }
    PermitStory& asked() {
        return act(model::permit::SuppliesAsked{"none", "locked_off", "none", "Control room"}, "P-1");
    }
    PermitStory& proved(model::permit::Side side) {
        using namespace model::permit;
        act(DetectorProved{side, "D-3", false, true}, "P-1");
        for (const std::string_view conductor : visit::permit::conductors(side)) {
            act(ConductorTested{side, std::string(conductor), "none"}, "P-1");
        }
        return act(DetectorProved{side, "D-3", true, true}, "P-1");
    }
    PermitStory& earth(const std::string& id, model::permit::Side side) {
        using namespace model::permit;
        act(EarthEndOn{id, EarthKind::Control, side, "", "Pole A", "P-4", 70.0}, "P-1");
        return act(LineEndOn{id}, "P-1");
    }
    PermitStory& ready() {
        using namespace model::permit;
        locked().asked();
        proved(Side::Hv).earth("E-1", Side::Hv);
        proved(Side::Lv).earth("E-2", Side::Lv);
        act(LivePartNoted{"Line beyond the fuse switch", 2.4}, "P-1");
        return act(ZoneMarked{"Red and white tape between the poles"}, "P-1");
    }
    PermitStory& issued(const std::string& party = "A", const std::string& holder = "P-3") {
        const std::string second = holder == "P-3" ? "P-2" : "P-3";
        return act(model::permit::Issued{party, holder, clock_at(480), second, signing()}, "P-1");
    }
    PermitStory& accepted(const std::string& party = "A", const std::string& holder = "P-3") {
        issued(party, holder);
        return act(model::permit::Accepted{party, signing()}, holder);
    }
    PermitStory& working() {
        using namespace model::permit;
        act(Briefed{"P-4"}, "P-4");
        ready().accepted();
        act(SignedOn{"A", "P-4"}, "P-4");
        act(ToolsOut{"A", 5}, "P-3");
        act(EarthEndOn{"W-1", EarthKind::Working, Side::Hv, "A", "Pole B", "P-4", 70.0}, "P-4");
        return act(LineEndOn{"W-1"}, "P-4");
    }
    PermitStory& cleared() {
        using namespace model::permit;
        act(LineEndOff{"W-1"}, "P-4");
        act(EarthEndOff{"W-1"}, "P-4");
        act(ToolsIn{"A", 5}, "P-3");
        return act(SignedOff{"P-4", ""}, "P-4");
    }
    PermitStory& handed_back() {
        return cleared().act(model::permit::HandedBack{"A", "Bushings changed", signing()}, "P-3");
    }
    PermitStory& cancelled() { return handed_back().act(model::permit::Cancelled{"P-2", signing()}, "P-1"); }

private:
    visit::permit::Rules rules_;
};

/// One act that one guard alone refuses.
struct Behaviour {
    std::string guard;
    std::string what;
    std::string key; ///< the reason given
    std::string step;
    State state;
    Act act;
    std::string by;
    int minute = 0;
};

/// Keeps what a Wished only refers to.
struct WishKept {
    visit::permit::Rules rules;
    visit::permit::Powers powers;
    Behaviour row;
    [[nodiscard]] visit::permit::Wished ask() const {
        return {rules, powers, row.state, row.act, row.by, clock_at(row.minute), structure_id()};
    }
};
inline WishKept wished(const Behaviour& row) {
    visit::permit::Rules rules;
    rules.least_mm2_hv = 33.6;
    rules.least_mm2_lv = 33.6;
    return {rules, four_people(), row};
}

inline std::vector<Behaviour> behaviours() {
    using namespace model::permit;
    const auto told = [](const std::function<void(PermitStory&)>& tell) {
        PermitStory story;
        tell(story);
        return story;
    };
    const PermitStory nothing;
    const PermitStory prepared =
        told([](PermitStory& s) { s.act(Prepared{"4711", "Change bushings", "Jumpers"}, "P-1"); });
    const PermitStory point = told([&](PermitStory& s) {
        s = prepared;
        s.act(PointAdded{"HV1", "Fuse switch", "Pole A", Side::Hv}, "P-1");
    });
    const PermitStory open = told([&](PermitStory& s) {
        s = point;
        s.act(PointOpened{"HV1", "Gap seen"}, "P-1");
    });
    const PermitStory locked = told([](PermitStory& s) { s.locked(); });
    const PermitStory asked = told([](PermitStory& s) { s.locked().asked(); });
    const PermitStory trying = told(
        [](PermitStory& s) { s.locked().asked().act(DetectorProved{Side::Hv, "D-3", false, true}, "P-1"); });
    const PermitStory tested = told([&](PermitStory& s) {
        s = trying;
        for (const char* conductor : {"A", "B", "C"}) {
            s.act(ConductorTested{Side::Hv, conductor, "none"}, "P-1");
        }
    });
    const PermitStory ready = told([](PermitStory& s) { s.ready(); });
    const PermitStory issued = told([](PermitStory& s) { s.ready().issued(); });
    const PermitStory accepted = told([](PermitStory& s) { s.ready().accepted(); });
    const PermitStory working = told([](PermitStory& s) { s.working(); });
    const PermitStory suspended =
        told([](PermitStory& s) { s.working().cleared().act(Suspended{"", "Thunder heard"}, "P-4"); });
    const PermitStory back = told([](PermitStory& s) { s.working().handed_back(); });
    const PermitStory cancelled = told([](PermitStory& s) { s.working().cancelled(); });
    const auto changed = [](PermitStory s, const std::function<void(State&)>& change) {
        change(s.state);
        return s;
    };
    const PermitStory strange = changed(issued, [](State& s) { s.irregular = 1; });
    const PermitStory left_on =
        changed(back, [](State& s) { s.on["P-4"] = "A"; }); // as two tablets may bring together
    const PermitStory other_sheet = told([&](PermitStory& s) {
        s = issued;
        s.act(EarthEndOn{"E-3", EarthKind::Control, Side::Hv, "", "Pole B", "P-4", 70.0}, "P-1");
        s.act(LineEndOn{"E-3"}, "P-1");
    });

    std::vector<Behaviour> rows;
    const auto row = [&](const char* guard, const char* what, const char* key, const char* step,
                         const PermitStory& story, const Act& act, const char* by) {
        rows.push_back(
            {guard, what, std::string("permit.no.") + key, step, story.state, act, by, story.minute + 1});
    };
    const Signing undrawn = {ready.signing().over, " "};
    const Signing of_nothing = {nothing.signing().over, "0,0 300,0"};
    row("known_person", "a stranger suspends", "unknown_person", "", accepted, Suspended{"", "Smoke"}, "P-9");
    row("regular", "accepting after an irregular act", "irregular", "", strange,
        Accepted{"A", strange.signing()}, "P-3");
    row("prepare_texts", "no limits", "prepare_texts", "prepare", nothing, Prepared{"4711", "Work", " "},
        "P-1");
    row("point_new", "the same point twice", "point_known", "points", point,
        PointAdded{"HV1", "Another", "Pole B", Side::Lv}, "P-1");
    row("point_texts", "no device", "point_texts", "points", prepared, PointAdded{"HV1", "", "P", Side::Hv},
        "P-1");
    row("open_closed_point", "open already", "point_open_already", "points", open,
        PointOpened{"HV1", "Gap seen"}, "P-1");
    row("open_closed_point", "no such point", "point_open_already", "points", open,
        PointOpened{"HV7", "Gap seen"}, "P-1");
    row("open_position", "not said how it stands", "position", "points", point, PointOpened{"HV1", ""},
        "P-1");
    row("lock_open_point", "not open", "point_not_open", "points", point,
        PointLocked{"HV1", "L-7", "T-7", "P-1"}, "P-1");
    row("lock_texts", "nobody holds the key", "lock_texts", "points", open,
        PointLocked{"HV1", "L-7", "T-7", ""}, "P-1");
    row("unlock_locked_point", "not locked", "point_not_locked", "locks", open, PointUnlocked{"HV1"}, "P-1");
    row("supplies_points", "points still closed", "points", "points", point,
        SuppliesAsked{"none", "none", "none", "Owner"}, "P-1");
    row("supplies_answers", "solar not answered", "supplies_answers", "supplies", locked,
        SuppliesAsked{"none", "", "none", "Owner"}, "P-1");
    row("supplies_asked_of", "asked of nobody", "asked_of", "supplies", locked,
        SuppliesAsked{"none", "none", "none", ""}, "P-1");
    row("proof_detector", "a detector without number", "detector", "proof_hv", asked,
        DetectorProved{Side::Hv, "", false, true}, "P-1");
    row("proof_conductor", "no neutral on the HV side", "conductor", "proof_hv", trying,
        ConductorTested{Side::Hv, "N", "none"}, "P-1");
    row("proof_detector_first", "conductor before detector", "detector_first", "proof_lv", asked,
        ConductorTested{Side::Lv, "A", "none"}, "P-1");
    row("proof_conductors_first", "detector again before the conductors", "conductors_first", "proof_hv",
        trying, DetectorProved{Side::Hv, "D-3", true, true}, "P-1");
    row("proof_same_detector", "another detector afterwards", "same_detector", "proof_hv", tested,
        DetectorProved{Side::Hv, "D-8", true, true}, "P-1");
    row("proof_points", "a point is not locked", "points", "points", told([&](PermitStory& s) {
            s = asked;
            s.act(PointAdded{"HV3", "Link", "Pole B", Side::Hv}, "P-1");
        }),
        DetectorProved{Side::Hv, "D-3", false, true}, "P-1");
    row("line_end_points", "a point was found meanwhile", "points", "points", told([&](PermitStory& s) {
            s = ready;
            s.act(EarthEndOn{"E-3", EarthKind::Control, Side::Hv, "", "Pole B", "P-4", 70.0}, "P-1");
            s.act(PointAdded{"HV3", "Link", "Pole B", Side::Hv}, "P-1");
        }),
        LineEndOn{"E-3"}, "P-1");
    const PermitStory not_asked = changed(ready, [](State& s) { s.supplies.reset(); });
    row("ready_supplies", "supplies not asked", "supplies", "supplies", not_asked,
        Issued{"A", "P-3", clock_at(480), "P-2", not_asked.signing()}, "P-1");
    row("transfer_holder_may", "to one who may not accept", "may_not_accept", "accept", suspended,
        Transferred{"A", "P-4"}, "P-1");
    row("live_part", "no distance", "live_part", "zone", asked, LivePartNoted{"Line", 0.0}, "P-1");
    row("live_part", "no number", "live_part", "zone", asked,
        LivePartNoted{"Line", std::numeric_limits<double>::quiet_NaN()}, "P-1");
    row("zone_text", "nothing said", "zone_text", "zone", asked, ZoneMarked{" "}, "P-1");
    row("earth_texts", "no number on the tag", "earth_texts", "earths", asked,
        EarthEndOn{"", EarthKind::Control, Side::Hv, "", "Pole A", "P-4", 70.0}, "P-1");
    row("earth_fixed_by", "by a stranger", "fixed_by", "earths", asked,
        EarthEndOn{"E-1", EarthKind::Control, Side::Hv, "", "Pole A", "P-9", 70.0}, "P-1");
    row("earth_not_on_yet", "the same number twice", "earth_on_already", "earths", ready,
        EarthEndOn{"E-1", EarthKind::Control, Side::Hv, "", "Pole B", "P-4", 70.0}, "P-1");
    row("earth_size", "smaller than No. 2 AWG", "earth_size", "earths", asked,
        EarthEndOn{"E-1", EarthKind::Control, Side::Hv, "", "Pole A", "P-4", 25.0}, "P-1");
    row("earth_size", "no number", "earth_size", "earths", asked,
        EarthEndOn{"E-1", EarthKind::Control, Side::Hv, "", "Pole A", "P-4",
                   std::numeric_limits<double>::quiet_NaN()},
        "P-1");
    row("control_earth_of_nobody", "a party's control earth", "control_of_party", "earths", asked,
        EarthEndOn{"E-1", EarthKind::Control, Side::Hv, "A", "Pole A", "P-4", 70.0}, "P-1");
    row("line_end_is_on", "never put on", "line_end_not_on", "", asked, LineEndOff{"E-1"}, "P-1");
    row("earth_end_last", "no such earth", "line_end_first", "", asked, EarthEndOff{"E-9"}, "P-1");
    row("control_off_clear", "someone left on", "person_on", "people",
        changed(cancelled, [](State& s) { s.on["P-4"] = "A"; }), LineEndOff{"E-1"}, "P-1");
    row("issue_party", "no name", "party_known", "issue", ready,
        Issued{"", "P-3", clock_at(480), "P-2", ready.signing()}, "P-1");
    row("suspend_something", "nobody works", "nothing_to_suspend", "", ready, Suspended{"", "Smoke"}, "P-4");
    row("suspend_reason", "no reason", "reason", "", accepted, Suspended{"", " "}, "P-4");
    row("resume_suspended", "not suspended", "not_suspended", "", issued, Resumed{"A"}, "P-1");
    row("extend_held", "no such party", "nobody_holds", "issue", issued, Extended{"B", clock_at(500)}, "P-1");
    row("briefed_self", "briefing of another", "only_self", "people", prepared, Briefed{"P-3"}, "P-4");
    row("off_is_on", "not on", "not_on", "people", accepted, SignedOff{"P-4", ""}, "P-4");
    row("tools_out_count", "none", "count", "tools", accepted, ToolsOut{"A", 0}, "P-3");
    row("tools_out_count", "more than can be counted", "count", "tools", accepted,
        ToolsOut{"A", 2'000'000'000}, "P-3");
    row("tools_in_count", "more than went out", "more_in_than_out", "tools", working, ToolsIn{"A", 6}, "P-3");
    row("lead_reason", "no reason", "reason", "", locked, LeadDecided{"earth_not_fitted", "hv", ""}, "P-2");
    row("lead_matter", "nothing is missing", "nothing_to_decide", "", suspended,
        LeadDecided{"tools_not_found", "A", "Lost"}, "P-1");
    row("cancel_clear", "someone left on", "people_on", "people", left_on,
        Cancelled{"P-2", left_on.signing()}, "P-1");
    row("signed_drawn", "not drawn", "not_drawn", "", ready,
        Issued{"A", "P-3", clock_at(480), "P-2", undrawn}, "P-1");
    row("signed_sheet", "another sheet", "other_sheet", "", ready,
        Issued{"A", "P-3", clock_at(480), "P-2", of_nothing}, "P-1");
    row("signed_as_issued", "an earth was added after the issue", "sheet_changed", "hand_back", other_sheet,
        Accepted{"A", other_sheet.signing()}, "P-3");
    return rows;
}

} // namespace crossarm::tests
