// Guards of who holds a permit: issue, acceptance, stop, resume, transfer, extension.
#include "checklist/visit/check_value.hpp"
#include "checklist/visit/permit_facts.hpp"
#include "checklist/visit/permit_guards.hpp"

#include <algorithm>
#include <array>

namespace crossarm::visit::permit {

namespace {

constexpr double kMsInHour = 3'600'000.0;

/// The party an act is about, when it is there.
template<typename One>
const Party* about(const Wished& w) {
    const auto* a = as<One>(w);
    return a != nullptr ? party_of(w.state, a->party) : nullptr;
}

// ---- issue --------------------------------------------------------------------------------------------

MayRefuse issue_party(const Wished& w) {
    const auto* a = as<acts::Issued>(w);
    const Party* party = about<acts::Issued>(w);
    const bool again = party != nullptr && party->holding == Holding::TakenBack && !party->ever_accepted;
    return a != nullptr && (is_blank(a->party) || (party != nullptr && !again))
               ? refuse("permit.no.party_known", "issue", {{"party", a->party}})
               : MayRefuse();
}
MayRefuse issue_holder_may(const Wished& w) {
    const auto* a = as<acts::Issued>(w);
    return a != nullptr && !w.powers.may_accept.contains(a->holder)
               ? refuse("permit.no.may_not_accept", "issue", {{"person", a->holder}})
               : MayRefuse();
}
MayRefuse issue_to_another(const Wished& w) {
    const auto* a = as<acts::Issued>(w);
    return a != nullptr && a->holder == w.by ? refuse("permit.no.issuer_is_holder", "issue") : MayRefuse();
}
MayRefuse issue_second(const Wished& w) {
    const auto* a = as<acts::Issued>(w);
    return a != nullptr &&
                   (!w.powers.known.contains(a->second) || a->second == w.by || a->second == a->holder)
               ? refuse("permit.no.second", "issue")
               : MayRefuse();
}
MayRefuse end_ahead(const Wished& w) {
    const auto* issued = as<acts::Issued>(w);
    const auto* extended = as<acts::Extended>(w);
    const auto passed = [&](model::Timestamp until) { return until.utc_ms <= w.at.utc_ms; };
    return (issued != nullptr && passed(issued->until)) || (extended != nullptr && passed(extended->until))
               ? refuse("permit.no.end_passed", "issue")
               : MayRefuse();
}
MayRefuse end_within_hours(const Wished& w) {
    const auto* issued = as<acts::Issued>(w);
    const auto* extended = as<acts::Extended>(w);
    if (issued == nullptr && extended == nullptr) {
        return std::nullopt;
    }
    const model::Timestamp until = issued != nullptr ? issued->until : extended->until;
    const model::Timestamp first = first_issue(w.state).value_or(w.at);
    return static_cast<double>(until.utc_ms - first.utc_ms) > w.rules.most_hours * kMsInHour
               ? refuse("permit.no.too_long", "issue",
                        {{"hours", model::Quantity{w.rules.most_hours, model::Unit::Hour}}})
               : MayRefuse();
}

// ---- everything below the permit whole, for issue, acceptance and resuming -------------------------------

bool stands_on_it(const Wished& w) {
    return is_one_of<acts::Issued, acts::Accepted, acts::Resumed>(w);
}
MayRefuse ready_points(const Wished& w) {
    return stands_on_it(w) ? no_points(w.state) : MayRefuse();
}
MayRefuse ready_supplies(const Wished& w) {
    return stands_on_it(w) ? no_supplies(w.state) : MayRefuse();
}
MayRefuse ready_proof_hv(const Wished& w) {
    return stands_on_it(w) ? no_proof(w.state, Side::Hv) : MayRefuse();
}
MayRefuse ready_proof_lv(const Wished& w) {
    return stands_on_it(w) ? no_proof(w.state, Side::Lv) : MayRefuse();
}
MayRefuse ready_earth_hv(const Wished& w) {
    return stands_on_it(w) ? no_earth(w.state, w.rules, Side::Hv) : MayRefuse();
}
MayRefuse ready_earth_lv(const Wished& w) {
    return stands_on_it(w) ? no_earth(w.state, w.rules, Side::Lv) : MayRefuse();
}
// Without an earth only the detector's word stands between people and the supply: it must be of now.
MayRefuse ready_proof_fresh(const Wished& w) {
    if (!is_one_of<acts::Issued, acts::Resumed>(w)) {
        return std::nullopt;
    }
    for (const Side side : {Side::Hv, Side::Lv}) {
        if (!control_earth_on(w.state, side) && !is_fresh(proof_of(w.state, side), side, w.rules, w.at)) {
            return refuse("permit.no.prove_again", side == Side::Hv ? "proof_hv" : "proof_lv",
                          {{"minutes", model::Quantity{w.rules.proof_minutes, model::Unit::Minute}}});
        }
    }
    return std::nullopt;
}
MayRefuse ready_live_parts(const Wished& w) {
    return stands_on_it(w) ? no_live_parts(w.state) : MayRefuse();
}
MayRefuse ready_zone(const Wished& w) {
    return stands_on_it(w) ? no_zone(w.state) : MayRefuse();
}

// ---- acceptance -----------------------------------------------------------------------------------------

MayRefuse accept_issued(const Wished& w) {
    const auto* a = as<acts::Accepted>(w);
    const Party* party = about<acts::Accepted>(w);
    return a != nullptr && (party == nullptr || party->holding != Holding::Issued)
               ? refuse("permit.no.not_issued", "issue", {{"party", a->party}})
               : MayRefuse();
}
MayRefuse accept_by_holder(const Wished& w) {
    const Party* party = about<acts::Accepted>(w);
    return party != nullptr && (party->holder != w.by || !w.powers.may_accept.contains(w.by))
               ? refuse("permit.no.not_holder", "accept", {{"person", party->holder}})
               : MayRefuse();
}
MayRefuse accept_in_time(const Wished& w) {
    const Party* party = about<acts::Accepted>(w);
    return party != nullptr && !in_time(w.state, *party, w.at)
               ? refuse("permit.no.out_of_time", "issue", {{"party", party->id}})
               : MayRefuse();
}

// ---- stop and go on -------------------------------------------------------------------------------------

MayRefuse suspend_something(const Wished& w) {
    const auto* a = as<acts::Suspended>(w);
    if (a == nullptr) {
        return std::nullopt;
    }
    const bool any = std::ranges::any_of(w.state.parties, [&](const Party& party) {
        return (a->party.empty() || party.id == a->party) && holds(party) &&
               party.holding != Holding::Suspended;
    });
    return any ? MayRefuse() : refuse("permit.no.nothing_to_suspend", "");
}
MayRefuse suspend_reason(const Wished& w) {
    const auto* a = as<acts::Suspended>(w);
    return a != nullptr && is_blank(a->reason) ? refuse("permit.no.reason", "") : MayRefuse();
}

MayRefuse resume_suspended(const Wished& w) {
    const auto* a = as<acts::Resumed>(w);
    const Party* party = about<acts::Resumed>(w);
    return a != nullptr && (party == nullptr || party->holding != Holding::Suspended)
               ? refuse("permit.no.not_suspended", "", {{"party", a->party}})
               : MayRefuse();
}
MayRefuse resume_by_another(const Wished& w) {
    const Party* party = about<acts::Resumed>(w);
    return party != nullptr && party->holder == w.by ? refuse("permit.no.own_permit", "issue") : MayRefuse();
}
MayRefuse resume_in_time(const Wished& w) {
    const Party* party = about<acts::Resumed>(w);
    return party != nullptr && !in_time(w.state, *party, w.at)
               ? refuse("permit.no.extend_first", "issue", {{"party", party->id}})
               : MayRefuse();
}

MayRefuse transfer_suspended(const Wished& w) {
    const auto* a = as<acts::Transferred>(w);
    const Party* party = about<acts::Transferred>(w);
    return a != nullptr && (party == nullptr || party->holding != Holding::Suspended)
               ? refuse("permit.no.suspend_first", "", {{"party", a->party}})
               : MayRefuse();
}
MayRefuse transfer_nobody_on(const Wished& w) {
    const Party* party = about<acts::Transferred>(w);
    const auto on = std::ranges::find_if(
        w.state.on, [&](const auto& one) { return party != nullptr && one.second == party->id; });
    return on != w.state.on.end() ? refuse("permit.no.person_on", "people", {{"person", on->first}})
                                  : MayRefuse();
}
MayRefuse transfer_holder_may(const Wished& w) {
    const auto* a = as<acts::Transferred>(w);
    return a != nullptr && !w.powers.may_accept.contains(a->holder)
               ? refuse("permit.no.may_not_accept", "accept", {{"person", a->holder}})
               : MayRefuse();
}
MayRefuse transfer_to_another(const Wished& w) {
    const auto* a = as<acts::Transferred>(w);
    const Party* party = about<acts::Transferred>(w);
    return party != nullptr && (a->holder == party->holder || a->holder == party->issuer || a->holder == w.by)
               ? refuse("permit.no.transfer_to_another", "accept")
               : MayRefuse();
}
MayRefuse transfer_by_another(const Wished& w) {
    const Party* party = about<acts::Transferred>(w);
    return party != nullptr && party->holder == w.by ? refuse("permit.no.own_permit", "issue") : MayRefuse();
}

MayRefuse extend_held(const Wished& w) {
    const auto* a = as<acts::Extended>(w);
    const Party* party = about<acts::Extended>(w);
    return a != nullptr && (party == nullptr || !holds(*party))
               ? refuse("permit.no.nobody_holds", "issue", {{"party", a->party}})
               : MayRefuse();
}
MayRefuse extend_by_another(const Wished& w) {
    const Party* party = about<acts::Extended>(w);
    return party != nullptr && party->holder == w.by ? refuse("permit.no.own_permit", "issue") : MayRefuse();
}
MayRefuse extend_later(const Wished& w) {
    const auto* a = as<acts::Extended>(w);
    const Party* party = about<acts::Extended>(w);
    return party != nullptr && a->until.utc_ms <= party->until.utc_ms ? refuse("permit.no.not_later", "issue")
                                                                      : MayRefuse();
}

constexpr std::array kHolding = {
    Guard{"issue_party", issue_party},
    Guard{"issue_holder_may", issue_holder_may},
    Guard{"issue_to_another", issue_to_another},
    Guard{"issue_second", issue_second},
    Guard{"end_ahead", end_ahead},
    Guard{"end_within_hours", end_within_hours},
    Guard{"ready_points", ready_points},
    Guard{"ready_supplies", ready_supplies},
    Guard{"ready_proof_hv", ready_proof_hv},
    Guard{"ready_proof_lv", ready_proof_lv},
    Guard{"ready_earth_hv", ready_earth_hv},
    Guard{"ready_earth_lv", ready_earth_lv},
    Guard{"ready_proof_fresh", ready_proof_fresh},
    Guard{"ready_live_parts", ready_live_parts},
    Guard{"ready_zone", ready_zone},
    Guard{"accept_issued", accept_issued},
    Guard{"accept_by_holder", accept_by_holder},
    Guard{"accept_in_time", accept_in_time},
    Guard{"suspend_something", suspend_something},
    Guard{"suspend_reason", suspend_reason},
    Guard{"resume_suspended", resume_suspended},
    Guard{"resume_by_another", resume_by_another},
    Guard{"resume_in_time", resume_in_time},
    Guard{"transfer_suspended", transfer_suspended},
    Guard{"transfer_nobody_on", transfer_nobody_on},
    Guard{"transfer_holder_may", transfer_holder_may},
    Guard{"transfer_to_another", transfer_to_another},
    Guard{"transfer_by_another", transfer_by_another},
    Guard{"extend_held", extend_held},
    Guard{"extend_by_another", extend_by_another},
    Guard{"extend_later", extend_later},
};

} // namespace

std::span<const Guard> holding_guards() {
    return kHolding;
}

} // namespace crossarm::visit::permit
