#include "tests/proof/properties.hpp"

#include <algorithm>
#include <array>
#include <cstring>

namespace crossarm::proof {

namespace {

using namespace visit::permit;
namespace acts = model::permit;

template<typename One>
const One* did(const Happened& h) {
    return std::get_if<One>(&h.wish.act);
}
bool has_permit(const Party& p) {
    return p.holding == Holding::Issued || p.holding == Holding::Accepted || p.holding == Holding::Suspended;
}
const Party* party(const State& s, const std::string& id) {
    for (const Party& p : s.parties) {
        if (p.id == id) {
            return &p;
        }
    }
    return nullptr;
}
const Earth* earth(const State& s, const std::string& id) {
    for (const Earth& e : s.earths) {
        if (e.id == id) {
            return &e;
        }
    }
    return nullptr;
}
bool earthed(const State& s, Side side) {
    return std::ranges::any_of(s.earths, [&](const Earth& e) {
        return e.side == side && e.kind == EarthKind::Control && e.earth_end && e.line_end;
    });
}
bool decided(const State& s, Side side) {
    return std::ranges::any_of(s.exceptions, [&](const Exception& e) {
        return e.matter == "earth_not_fitted" && e.about == (side == Side::Hv ? "hv" : "lv");
    });
}
bool all_locked(const State& s) {
    return s.points.size() >= 2 &&
           std::ranges::all_of(s.points, [](const Point& p) { return p.open && p.locked; });
}
bool proved(const State& s, Side side) {
    const Proof& p = side == Side::Hv ? s.hv : s.lv;
    return p.before && p.after && p.without_indication.size() == (side == Side::Hv ? 3U : 4U);
}
bool proved_lately(const Happened& h, const State& s, Side side) {
    const Proof& p = side == Side::Hv ? s.hv : s.lv;
    return proved(s, side) && h.at.utc_ms - p.at.utc_ms <= 15 * 60'000;
}
bool isolated(const State& s, const Rules& rules) {
    const bool lv_too = rules.earth_lv_too || (s.supplies && s.supplies->solar == "earthed");
    return all_locked(s) && s.supplies && proved(s, Side::Hv) && proved(s, Side::Lv) &&
           (earthed(s, Side::Hv) || decided(s, Side::Hv)) &&
           (!lv_too || earthed(s, Side::Lv) || decided(s, Side::Lv)) && !s.live_parts.empty() &&
           !s.zone.empty();
}
bool nothing_left(const State& s) {
    return s.on.empty() && std::ranges::none_of(s.parties, [](const Party& p) {
               return has_permit(p) || p.tools_out != p.tools_in;
           });
}
bool accepted(const State& s) {
    return std::ranges::any_of(s.parties, [](const Party& p) { return p.holding == Holding::Accepted; });
}
bool on_the_sheet_alike(const State& a, const State& b) {
    const auto same_earths = [&](Side side) { return earthed(a, side) == earthed(b, side); };
    return a.points == b.points && a.supplies == b.supplies && same_earths(Side::Hv) &&
           same_earths(Side::Lv) && proved(a, Side::Hv) == proved(b, Side::Hv) &&
           proved(a, Side::Lv) == proved(b, Side::Lv) && a.live_parts == b.live_parts && a.zone == b.zone &&
           decided(a, Side::Hv) == decided(b, Side::Hv) && decided(a, Side::Lv) == decided(b, Side::Lv);
}

// ---- of a state ------------------------------------------------------------------------------------------

bool supply_returns_to_nobody(const Happened& h) {
    const State& s = h.after;
    return bars_supply(s, false).has_value() ||
           (s.cancelled && nothing_left(s) &&
            std::ranges::none_of(s.earths, [](const Earth& e) { return e.earth_end || e.line_end; }));
}
bool work_only_isolated(const Happened& h) {
    return !accepted(h.after) || isolated(h.after, h.world.rules);
}
bool working_earth_only_of_accepted(const Happened& h) {
    return std::ranges::all_of(h.after.earths, [&](const Earth& e) {
        const Party* p = party(h.after, e.party);
        return e.kind == EarthKind::Control || (!e.earth_end && !e.line_end) ||
               (p != nullptr && p->ever_accepted && has_permit(*p) && earthed(h.after, e.side));
    });
}
bool line_end_never_alone(const Happened& h) {
    return std::ranges::all_of(h.after.earths, [](const Earth& e) { return e.earth_end || !e.line_end; });
}
bool cancelled_leaves_nothing(const Happened& h) {
    return !h.after.cancelled || nothing_left(h.after);
}
bool issuer_is_not_holder(const Happened& h) {
    return std::ranges::all_of(h.after.parties, [&](const Party& p) {
        return p.issuer != p.holder && h.world.powers.may_accept.contains(p.holder) &&
               h.world.powers.may_issue.contains(p.issuer) && p.second != p.issuer;
    });
}
bool people_on_under_a_permit(const Happened& h) {
    return std::ranges::all_of(h.after.on, [&](const auto& on) {
        const Party* p = party(h.after, on.second);
        return p != nullptr && has_permit(*p) && p->ever_accepted && h.after.briefed.contains(on.first);
    });
}
bool back_means_clear(const Happened& h) {
    return std::ranges::all_of(h.after.parties, [&](const Party& p) {
        const bool back = p.holding == Holding::HandedBack || p.holding == Holding::TakenBack;
        return !back || (p.tools_out == p.tools_in &&
                         std::ranges::none_of(h.after.on, [&](const auto& on) { return on.second == p.id; }));
    });
}
bool not_more_tools_in_than_out(const Happened& h) {
    return std::ranges::all_of(h.after.parties, [](const Party& p) { return p.tools_in <= p.tools_out; });
}
bool locked_is_open(const Happened& h) {
    return std::ranges::all_of(h.after.points, [](const Point& p) { return p.open || !p.locked; });
}
bool not_longer_than_allowed(const Happened& h) {
    std::int64_t first = h.at.utc_ms;
    for (const Party& p : h.after.parties) {
        first = std::min(first, p.issued_at.utc_ms);
    }
    return std::ranges::all_of(h.after.parties,
                               [&](const Party& p) { return p.until.utc_ms - first <= 12 * 3'600'000; });
}

// ---- of an act -------------------------------------------------------------------------------------------

bool first_earth_on_proved_side(const Happened& h) {
    const auto* a = did<acts::LineEndOn>(h);
    const Earth* e = a != nullptr ? earth(h.before, a->earth) : nullptr;
    return e == nullptr ||
           (all_locked(h.before) && (earthed(h.before, e->side) || proved_lately(h, h.before, e->side)));
}
bool earths_go_on_locked_points(const Happened& h) {
    return did<acts::EarthEndOn>(h) == nullptr || all_locked(h.before);
}
bool proof_is_of_isolated_conductors(const Happened& h) {
    const auto holds_for = [&](Side side) {
        return !proved(h.after, side) || proved(h.before, side) ||
               (all_locked(h.before) && h.before.supplies && !earthed(h.before, side));
    };
    return holds_for(Side::Hv) && holds_for(Side::Lv);
}
bool nothing_starts_on_a_side_unproved(const Happened& h) {
    const auto* detector = did<acts::DetectorProved>(h);
    const auto* tested = did<acts::ConductorTested>(h);
    const Side side = detector != nullptr ? detector->side : tested != nullptr ? tested->side : Side::Hv;
    return (detector == nullptr && tested == nullptr) ||
           (all_locked(h.before) && h.before.supplies && !earthed(h.before, side));
}
bool control_earths_stay_over_parties(const Happened& h) {
    const auto lost = [&](const Earth& e) {
        const Earth* now = earth(h.after, e.id);
        return e.kind == EarthKind::Control && e.line_end && (now == nullptr || !now->line_end);
    };
    if (std::ranges::none_of(h.before.earths, lost)) {
        return true;
    }
    const bool by_rule =
        h.before.cancelled || !h.world.rules.control_earths_off_after_cancelling || h.before.parties.empty();
    return nothing_left(h.before) && by_rule;
}
bool earths_off_before_release(const Happened& h) {
    return did<acts::Cancelled>(h) == nullptr || h.world.rules.control_earths_off_after_cancelling ||
           std::ranges::none_of(h.before.earths, [](const Earth& e) { return e.earth_end || e.line_end; });
}
bool sheet_stands_while_accepted(const Happened& h) {
    return !accepted(h.before) || !accepted(h.after) || on_the_sheet_alike(h.before, h.after);
}
bool decided_while_nobody_works(const Happened& h) {
    const auto* a = did<acts::LeadDecided>(h);
    return a == nullptr || (!accepted(h.before) && h.world.powers.leads.contains(h.wish.by) &&
                            std::ranges::none_of(h.before.parties, [&](const Party& p) {
                                return has_permit(p) && p.holder == h.wish.by;
                            }));
}
bool working_earth_off_with_others_down(const Happened& h) {
    const auto* a = did<acts::LineEndOff>(h);
    const Earth* e = a != nullptr ? earth(h.before, a->earth) : nullptr;
    return e == nullptr || e->kind == EarthKind::Control ||
           std::ranges::none_of(
               h.before.on, [&](const auto& on) { return on.second == e->party && on.first != h.wish.by; });
}
bool locks_come_off_last(const Happened& h) {
    const bool none_on =
        std::ranges::none_of(h.before.earths, [](const Earth& e) { return e.earth_end || e.line_end; });
    return did<acts::PointUnlocked>(h) == nullptr ||
           (none_on && nothing_left(h.before) && (h.before.cancelled || h.before.parties.empty()));
}
bool begun_in_time(const Happened& h) {
    const auto lasts = [&](const std::string& id) {
        const Party* p = party(h.before, id);
        return p != nullptr && h.at.utc_ms < p->until.utc_ms;
    };
    if (const auto* a = did<acts::Accepted>(h)) {
        return lasts(a->party);
    }
    if (const auto* a = did<acts::SignedOn>(h)) {
        return lasts(a->party);
    }
    if (const auto* a = did<acts::Resumed>(h)) {
        return lasts(a->party);
    }
    if (const auto* a = did<acts::EarthEndOn>(h)) {
        return a->kind == EarthKind::Control || lasts(a->party);
    }
    const auto* a = did<acts::LineEndOn>(h);
    const Earth* e = a != nullptr ? earth(h.before, a->earth) : nullptr;
    if (e != nullptr && e->kind == EarthKind::Working) {
        return lasts(e->party);
    }
    const auto* issued = did<acts::Issued>(h);
    const auto* extended = did<acts::Extended>(h);
    return (issued == nullptr || h.at.utc_ms < issued->until.utc_ms) &&
           (extended == nullptr || h.at.utc_ms < extended->until.utc_ms);
}
// Work begins under an accepted permit: people, tools and working earths go out to a party that works.
bool out_only_to_who_works(const Happened& h) {
    const auto works = [&](const std::string& id) {
        const Party* p = party(h.before, id);
        return p != nullptr && p->holding == Holding::Accepted;
    };
    if (const auto* a = did<acts::SignedOn>(h)) {
        return works(a->party);
    }
    if (const auto* a = did<acts::ToolsOut>(h)) {
        return works(a->party);
    }
    if (const auto* a = did<acts::EarthEndOn>(h)) {
        return a->kind == EarthKind::Control || works(a->party);
    }
    const auto* a = did<acts::LineEndOn>(h);
    const Earth* e = a != nullptr ? earth(h.before, a->earth) : nullptr;
    return e == nullptr || e->kind == EarthKind::Control || works(e->party);
}
bool issued_only_isolated(const Happened& h) {
    return (did<acts::Issued>(h) == nullptr && did<acts::Resumed>(h) == nullptr) ||
           isolated(h.before, h.world.rules);
}
bool unearthed_only_just_proved(const Happened& h) {
    const auto fine = [&](Side side) { return earthed(h.before, side) || proved_lately(h, h.before, side); };
    return (did<acts::Issued>(h) == nullptr && did<acts::Resumed>(h) == nullptr) ||
           (fine(Side::Hv) && fine(Side::Lv));
}
bool permits_move_in_order(const Happened& h) {
    for (const Party& after : h.after.parties) {
        const Party* before = party(h.before, after.id);
        const Holding was = before == nullptr ? Holding::TakenBack : before->holding;
        if (before != nullptr && was == after.holding && before->holder == after.holder) {
            continue;
        }
        const bool ok =
            after.holding == Holding::Issued ? before == nullptr || was == Holding::Suspended ||
                                                   (was == Holding::TakenBack && !before->ever_accepted)
            : after.holding == Holding::Accepted   ? was == Holding::Issued
            : after.holding == Holding::Suspended  ? was == Holding::Issued || was == Holding::Accepted
            : after.holding == Holding::HandedBack ? was == Holding::Accepted || was == Holding::Suspended
                                                   : was == Holding::Issued;
        if (!ok) {
            return false;
        }
    }
    return true;
}
bool transfer_leaves_nobody_behind(const Happened& h) {
    const auto* a = did<acts::Transferred>(h);
    return a == nullptr ||
           std::ranges::none_of(h.before.on, [&](const auto& on) { return on.second == a->party; });
}
// A transfer changes the holder, a resumption does not.
bool transfer_changes_the_holder(const Happened& h) {
    const auto* a = did<acts::Transferred>(h);
    const Party* p = a != nullptr ? party(h.before, a->party) : nullptr;
    return p == nullptr || p->holder != a->holder;
}
bool an_end_only_moves_on(const Happened& h) {
    const auto* a = did<acts::Extended>(h);
    const Party* p = a != nullptr ? party(h.before, a->party) : nullptr;
    return a == nullptr || (p != nullptr && has_permit(*p) && p->until.utc_ms < a->until.utc_ms);
}
bool done_by_whom_it_belongs_to(const Happened& h) {
    const std::string& by = h.wish.by;
    const auto holder = [&](const std::string& id) {
        const Party* p = party(h.before, id);
        return p == nullptr ? std::string() : p->holder;
    };
    const bool issuer = h.world.powers.may_issue.contains(by);
    if (const auto* a = did<acts::Issued>(h)) {
        return issuer && a->second != by && a->second != a->holder && a->holder != by;
    }
    if (const auto* a = did<acts::Accepted>(h)) {
        return holder(a->party) == by;
    }
    if (const auto* a = did<acts::HandedBack>(h)) {
        return holder(a->party) == by;
    }
    if (const auto* a = did<acts::Resumed>(h)) {
        return issuer && holder(a->party) != by;
    }
    if (const auto* a = did<acts::Extended>(h)) {
        return issuer && holder(a->party) != by;
    }
    if (const auto* a = did<acts::Transferred>(h)) {
        return issuer && holder(a->party) != by;
    }
    if (const auto* a = did<acts::SignedOn>(h)) {
        return a->person == by;
    }
    if (const auto* a = did<acts::SignedOff>(h)) {
        return a->person == by || !a->reason.empty();
    }
    const auto* cancelled = did<acts::Cancelled>(h);
    if (cancelled != nullptr) {
        return issuer && cancelled->second != by;
    }
    return issuer || (did<acts::Prepared>(h) == nullptr && did<acts::TakenBack>(h) == nullptr);
}
bool one_permit_a_person_on(const Happened& h) {
    const auto* a = did<acts::SignedOn>(h);
    return a == nullptr || !h.before.on.contains(a->person);
}
bool only_back_after_cancelling(const Happened& h) {
    if (!h.before.cancelled) {
        return true;
    }
    const auto more = [](bool before, bool after) { return after && !before; };
    bool ok = did<acts::Cancelled>(h) == nullptr && h.before.points.size() == h.after.points.size() &&
              h.before.supplies == h.after.supplies && h.before.hv.before >= h.after.hv.before &&
              h.before.lv.before >= h.after.lv.before && h.before.zone == h.after.zone &&
              h.before.live_parts == h.after.live_parts && h.before.exceptions == h.after.exceptions;
    for (const Earth& e : h.after.earths) {
        const Earth* was = earth(h.before, e.id);
        ok = ok && !more(was != nullptr && was->earth_end, e.earth_end) &&
             !more(was != nullptr && was->line_end, e.line_end);
    }
    return ok;
}
bool nothing_before_preparing(const Happened& h) {
    return h.before.prepared || did<acts::Prepared>(h) != nullptr;
}
bool points_known_before_issue(const Happened& h) {
    return h.before.parties.empty() ||
           (h.before.points.size() == h.after.points.size() && did<acts::Prepared>(h) == nullptr);
}

constexpr std::array kProperties = {
    Property{"supply returns to nobody", supply_returns_to_nobody},
    Property{"work only on what is isolated and earthed", work_only_isolated},
    Property{"a working earth only of a party that accepted", working_earth_only_of_accepted},
    Property{"a line end never without its earth end", line_end_never_alone},
    Property{"cancelled leaves nothing behind", cancelled_leaves_nothing},
    Property{"the issuer is not the holder, and both may", issuer_is_not_holder},
    Property{"people are on under a permit, briefed", people_on_under_a_permit},
    Property{"back means clear", back_means_clear},
    Property{"not more tools in than out", not_more_tools_in_than_out},
    Property{"a locked point is open", locked_is_open},
    Property{"not longer than allowed", not_longer_than_allowed},
    Property{"the first earth goes on a side just proved", first_earth_on_proved_side},
    Property{"earths go on behind locked points", earths_go_on_locked_points},
    Property{"a proof is of isolated conductors", proof_is_of_isolated_conductors},
    Property{"no proving before isolation or under an earth", nothing_starts_on_a_side_unproved},
    Property{"control earths stay over the parties", control_earths_stay_over_parties},
    Property{"earths off before release, where that is the rule", earths_off_before_release},
    Property{"the sheet stands while accepted", sheet_stands_while_accepted},
    Property{"a lead decides while nobody works", decided_while_nobody_works},
    Property{"a working earth comes off with the others down", working_earth_off_with_others_down},
    Property{"locks come off last", locks_come_off_last},
    Property{"begun in time", begun_in_time},
    Property{"people, tools and earths go out to who works", out_only_to_who_works},
    Property{"issued only on what is isolated", issued_only_isolated},
    Property{"unearthed only where just proved", unearthed_only_just_proved},
    Property{"permits move in order", permits_move_in_order},
    Property{"a transfer leaves nobody behind", transfer_leaves_nobody_behind},
    Property{"a transfer changes the holder", transfer_changes_the_holder},
    Property{"an end only moves on", an_end_only_moves_on},
    Property{"done by whom it belongs to", done_by_whom_it_belongs_to},
    Property{"a person is on once", one_permit_a_person_on},
    Property{"only back after cancelling", only_back_after_cancelling},
    Property{"nothing before preparing", nothing_before_preparing},
    Property{"points are known before the issue", points_known_before_issue},
};

} // namespace

std::span<const Property> properties() {
    return kProperties;
}

const Property* broken(const Happened& happened) {
    const auto found =
        std::ranges::find_if(kProperties, [&](const Property& one) { return !one.holds(happened); });
    return found == kProperties.end() ? nullptr : &*found;
}

const char* broken_by_time(const World& world, const State& state, model::Timestamp now) {
    if (!in_force(state, world.rules, now)) {
        return nullptr;
    }
    const bool works = isolated(state, world.rules) && !state.cancelled &&
                       std::ranges::any_of(state.parties, [&](const Party& p) {
                           return p.holding == Holding::Accepted && now.utc_ms < p.until.utc_ms;
                       });
    return works ? nullptr : "in force only while accepted, in time, isolated and earthed";
}

} // namespace crossarm::proof
