// Guards of the end: a lead's decision, taking back, handing back, cancelling.
#include "checklist/visit/check_value.hpp"
#include "checklist/visit/permit_facts.hpp"
#include "checklist/visit/permit_guards.hpp"

#include <algorithm>
#include <array>

namespace crossarm::visit::permit {

namespace {

const acts::LeadDecided* lead_decides(const Wished& w) {
    return as<acts::LeadDecided>(w);
}
MayRefuse lead_only(const Wished& w) {
    return lead_decides(w) != nullptr && !w.powers.leads.contains(w.by) ? refuse("permit.no.lead_only", "")
                                                                        : MayRefuse();
}
MayRefuse lead_holds_none(const Wished& w) {
    const bool holds_one = std::ranges::any_of(
        w.state.parties, [&](const Party& party) { return holds(party) && party.holder == w.by; });
    return lead_decides(w) != nullptr && holds_one ? refuse("permit.no.lead_holds", "") : MayRefuse();
}
MayRefuse lead_work_stopped(const Wished& w) {
    return lead_decides(w) != nullptr && any_accepted(w.state) ? refuse("permit.no.stop_first", "accept")
                                                               : MayRefuse();
}
MayRefuse lead_reason(const Wished& w) {
    const auto* a = lead_decides(w);
    return a != nullptr && is_blank(a->reason) ? refuse("permit.no.reason", "") : MayRefuse();
}
MayRefuse lead_matter(const Wished& w) {
    const auto* a = lead_decides(w);
    if (a == nullptr) {
        return std::nullopt;
    }
    if (a->matter == "earth_not_fitted" && !w.state.cancelled) {
        for (const Side side : {Side::Hv, Side::Lv}) {
            if (a->about == word_of(side) && !control_earth_on(w.state, side) &&
                !earth_excused(w.state, side)) {
                return std::nullopt;
            }
        }
    }
    const Party* party = a->matter == "tools_not_found" ? party_of(w.state, a->about) : nullptr;
    return party != nullptr && tools_missing(*party) != 0 ? MayRefuse()
                                                          : refuse("permit.no.nothing_to_decide", "");
}

MayRefuse take_back_issued(const Wished& w) {
    const auto* a = as<acts::TakenBack>(w);
    const Party* party = a != nullptr ? party_of(w.state, a->party) : nullptr;
    return a != nullptr && (party == nullptr || party->holding != Holding::Issued)
               ? refuse("permit.no.not_issued", "issue", {{"party", a->party}})
               : MayRefuse();
}
MayRefuse hand_back_held(const Wished& w) {
    const auto* a = as<acts::HandedBack>(w);
    const Party* party = a != nullptr ? party_of(w.state, a->party) : nullptr;
    return a != nullptr && (party == nullptr ||
                            (party->holding != Holding::Accepted && party->holding != Holding::Suspended))
               ? refuse("permit.no.not_accepted", "accept", {{"party", a->party}})
               : MayRefuse();
}
MayRefuse hand_back_by_holder(const Wished& w) {
    const auto* a = as<acts::HandedBack>(w);
    const Party* party = a != nullptr ? party_of(w.state, a->party) : nullptr;
    return party != nullptr && party->holder != w.by
               ? refuse("permit.no.not_holder", "hand_back", {{"person", party->holder}})
               : MayRefuse();
}

/// The party that gives its permit back.
const Party* going_back(const Wished& w) {
    if (const auto* a = as<acts::TakenBack>(w)) {
        return party_of(w.state, a->party);
    }
    const auto* a = as<acts::HandedBack>(w);
    return a != nullptr ? party_of(w.state, a->party) : nullptr;
}
MayRefuse back_people(const Wished& w) {
    const Party* party = going_back(w);
    return party != nullptr ? no_people_on(w.state, *party) : MayRefuse();
}
MayRefuse back_tools(const Wished& w) {
    const Party* party = going_back(w);
    return party != nullptr ? no_tools_missing(*party) : MayRefuse();
}
MayRefuse back_working_earths(const Wished& w) {
    const Party* party = going_back(w);
    return party != nullptr ? no_working_earths(w.state, *party) : MayRefuse();
}

MayRefuse cancel_second(const Wished& w) {
    const auto* a = as<acts::Cancelled>(w);
    return a != nullptr && (!w.powers.known.contains(a->second) || a->second == w.by)
               ? refuse("permit.no.second", "cancel")
               : MayRefuse();
}
MayRefuse cancel_parties_back(const Wished& w) {
    if (as<acts::Cancelled>(w) == nullptr) {
        return std::nullopt;
    }
    const auto held = std::ranges::find_if(w.state.parties, holds);
    return held != w.state.parties.end() ? refuse("permit.no.party_holds", "hand_back", {{"party", held->id}})
                                         : MayRefuse();
}
// A party that is back is clear already; this stands for what two tablets may have brought together.
MayRefuse cancel_clear(const Wished& w) {
    if (as<acts::Cancelled>(w) == nullptr) {
        return std::nullopt;
    }
    for (const Party& party : w.state.parties) {
        if (auto missing = not_clear(w.state, party)) {
            return missing;
        }
    }
    const auto working = std::ranges::find_if(w.state.earths, [](const Earth& earth) {
        return earth.kind == EarthKind::Working && (earth.earth_end || earth.line_end);
    });
    return working != w.state.earths.end()
               ? refuse("permit.no.working_earth_on", "working_earths", {{"party", working->party}})
               : MayRefuse();
}
MayRefuse cancel_earths_off(const Wished& w) {
    const int on = earths_on(w.state);
    return as<acts::Cancelled>(w) != nullptr && !w.rules.control_earths_off_after_cancelling && on > 0
               ? refuse("permit.no.earths_on", "control_earths",
                        {{"count", model::Quantity{static_cast<double>(on)}}})
               : MayRefuse();
}

constexpr std::array kEnding = {
    Guard{"lead_only", lead_only},
    Guard{"lead_holds_none", lead_holds_none},
    Guard{"lead_work_stopped", lead_work_stopped},
    Guard{"lead_reason", lead_reason},
    Guard{"lead_matter", lead_matter},
    Guard{"take_back_issued", take_back_issued},
    Guard{"hand_back_held", hand_back_held},
    Guard{"hand_back_by_holder", hand_back_by_holder},
    Guard{"back_people", back_people},
    Guard{"back_tools", back_tools},
    Guard{"back_working_earths", back_working_earths},
    Guard{"cancel_second", cancel_second},
    Guard{"cancel_parties_back", cancel_parties_back},
    Guard{"cancel_clear", cancel_clear},
    Guard{"cancel_earths_off", cancel_earths_off},
};

} // namespace

std::span<const Guard> ending_guards() {
    return kEnding;
}

} // namespace crossarm::visit::permit
