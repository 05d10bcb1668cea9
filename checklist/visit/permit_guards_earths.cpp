// Guards of the temporary earths: on with the earth end first, off in reverse.
#include "checklist/visit/check_value.hpp"
#include "checklist/visit/permit_facts.hpp"
#include "checklist/visit/permit_guards.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace crossarm::visit::permit {

namespace {

double least_mm2(const Rules& rules, Side side) {
    return side == Side::Hv ? rules.least_mm2_hv : rules.least_mm2_lv;
}

MayRefuse earth_points(const Wished& w) {
    return as<acts::EarthEndOn>(w) != nullptr ? no_points(w.state) : MayRefuse();
}
MayRefuse earth_texts(const Wished& w) {
    const auto* a = as<acts::EarthEndOn>(w);
    return a != nullptr && (is_blank(a->earth) || is_blank(a->place))
               ? refuse("permit.no.earth_texts", "earths")
               : MayRefuse();
}
MayRefuse earth_fixed_by(const Wished& w) {
    const auto* a = as<acts::EarthEndOn>(w);
    return a != nullptr && !w.powers.known.contains(a->fixed_by) ? refuse("permit.no.fixed_by", "earths")
                                                                 : MayRefuse();
}
MayRefuse earth_not_on_yet(const Wished& w) {
    const auto* a = as<acts::EarthEndOn>(w);
    const Earth* earth = a != nullptr ? earth_of(w.state, a->earth) : nullptr;
    return earth != nullptr && (earth->earth_end || earth->line_end)
               ? refuse("permit.no.earth_on_already", "earths", {{"earth", a->earth}})
               : MayRefuse();
}
MayRefuse earth_size(const Wished& w) {
    const auto* a = as<acts::EarthEndOn>(w);
    if (a == nullptr) {
        return std::nullopt;
    }
    const double least = least_mm2(w.rules, a->side);
    return !std::isfinite(a->size_mm2) || a->size_mm2 <= 0.0 || a->size_mm2 < least
               ? refuse("permit.no.earth_size", "earths",
                        {{"least", model::Quantity{least, model::Unit::SquareMillimetre}}})
               : MayRefuse();
}
MayRefuse control_earth_of_nobody(const Wished& w) {
    const auto* a = as<acts::EarthEndOn>(w);
    return a != nullptr && a->kind == EarthKind::Control && !a->party.empty()
               ? refuse("permit.no.control_of_party", "earths")
               : MayRefuse();
}

struct Working {
    std::string party;
    Side side;
};
/// The working earth of which an end is to be put on.
std::optional<Working> working_going_on(const Wished& w) {
    if (const auto* a = as<acts::EarthEndOn>(w); a != nullptr && a->kind == EarthKind::Working) {
        return Working{a->party, a->side};
    }
    if (const auto* a = as<acts::LineEndOn>(w)) {
        const Earth* earth = earth_of(w.state, a->earth);
        if (earth != nullptr && earth->kind == EarthKind::Working) {
            return Working{earth->party, earth->side};
        }
    }
    return std::nullopt;
}
MayRefuse working_earth_accepted(const Wished& w) {
    const auto working = working_going_on(w);
    if (!working) {
        return std::nullopt;
    }
    const Party* party = party_of(w.state, working->party);
    return party == nullptr || party->holding != Holding::Accepted
               ? refuse("permit.no.working_not_accepted", "accept", {{"party", working->party}})
               : MayRefuse();
}
MayRefuse working_earth_in_time(const Wished& w) {
    const auto working = working_going_on(w);
    const Party* party = working ? party_of(w.state, working->party) : nullptr;
    return party != nullptr && !in_time(w.state, *party, w.at)
               ? refuse("permit.no.out_of_time", "accept", {{"party", working->party}})
               : MayRefuse();
}
MayRefuse working_earth_after_control(const Wished& w) {
    const auto working = working_going_on(w);
    return working && !control_earth_on(w.state, working->side)
               ? refuse("permit.no.control_earth_first", "earths")
               : MayRefuse();
}

MayRefuse line_end_second(const Wished& w) {
    const auto* a = as<acts::LineEndOn>(w);
    const Earth* earth = a != nullptr ? earth_of(w.state, a->earth) : nullptr;
    return a != nullptr && (earth == nullptr || !earth->earth_end || earth->line_end)
               ? refuse("permit.no.earth_end_first", "earths", {{"earth", a->earth}})
               : MayRefuse();
}
MayRefuse line_end_points(const Wished& w) {
    return as<acts::LineEndOn>(w) != nullptr ? no_points(w.state) : MayRefuse();
}
MayRefuse line_end_proved(const Wished& w) {
    const auto* a = as<acts::LineEndOn>(w);
    const Earth* earth = a != nullptr ? earth_of(w.state, a->earth) : nullptr;
    if (earth == nullptr || earth->kind != EarthKind::Control || control_earth_on(w.state, earth->side) ||
        is_fresh(proof_of(w.state, earth->side), earth->side, w.rules, w.at)) {
        return std::nullopt;
    }
    return refuse("permit.no.prove_first", earth->side == Side::Hv ? "proof_hv" : "proof_lv",
                  {{"minutes", model::Quantity{w.rules.proof_minutes, model::Unit::Minute}}});
}

/// The earth whose line end is to come off, when it is of that kind.
const Earth* coming_off(const Wished& w, EarthKind kind) {
    const auto* a = as<acts::LineEndOff>(w);
    const Earth* earth = a != nullptr ? earth_of(w.state, a->earth) : nullptr;
    return earth != nullptr && earth->kind == kind ? earth : nullptr;
}
MayRefuse line_end_is_on(const Wished& w) {
    const auto* a = as<acts::LineEndOff>(w);
    const Earth* earth = a != nullptr ? earth_of(w.state, a->earth) : nullptr;
    return a != nullptr && (earth == nullptr || !earth->line_end)
               ? refuse("permit.no.line_end_not_on", "", {{"earth", a->earth}})
               : MayRefuse();
}
MayRefuse control_off_parties_back(const Wished& w) {
    if (coming_off(w, EarthKind::Control) == nullptr) {
        return std::nullopt;
    }
    const auto held = std::ranges::find_if(w.state.parties, holds);
    return held != w.state.parties.end() ? refuse("permit.no.party_holds", "hand_back", {{"party", held->id}})
                                         : MayRefuse();
}
MayRefuse control_off_clear(const Wished& w) {
    if (coming_off(w, EarthKind::Control) == nullptr) {
        return std::nullopt;
    }
    if (!w.state.on.empty()) {
        return refuse("permit.no.person_on", "people", {{"person", w.state.on.begin()->first}});
    }
    for (const Party& party : w.state.parties) {
        if (auto missing = not_clear(w.state, party)) {
            return missing;
        }
    }
    return std::nullopt;
}
MayRefuse control_off_cancelled(const Wished& w) {
    return coming_off(w, EarthKind::Control) != nullptr && w.rules.control_earths_off_after_cancelling &&
                   !w.state.cancelled && !w.state.parties.empty()
               ? refuse("permit.no.cancel_first", "cancel")
               : MayRefuse();
}
MayRefuse working_off_others_down(const Wished& w) {
    const Earth* earth = coming_off(w, EarthKind::Working);
    if (earth == nullptr) {
        return std::nullopt;
    }
    const auto other = std::ranges::find_if(
        w.state.on, [&](const auto& on) { return on.second == earth->party && on.first != w.by; });
    return other != w.state.on.end() ? refuse("permit.no.others_on", "people", {{"person", other->first}})
                                     : MayRefuse();
}
MayRefuse earth_end_last(const Wished& w) {
    const auto* a = as<acts::EarthEndOff>(w);
    const Earth* earth = a != nullptr ? earth_of(w.state, a->earth) : nullptr;
    return a != nullptr && (earth == nullptr || earth->line_end || !earth->earth_end)
               ? refuse("permit.no.line_end_first", "", {{"earth", a->earth}})
               : MayRefuse();
}

constexpr std::array kEarths = {
    Guard{"earth_points", earth_points},
    Guard{"earth_texts", earth_texts},
    Guard{"earth_fixed_by", earth_fixed_by},
    Guard{"earth_not_on_yet", earth_not_on_yet},
    Guard{"earth_size", earth_size},
    Guard{"control_earth_of_nobody", control_earth_of_nobody},
    Guard{"working_earth_accepted", working_earth_accepted},
    Guard{"working_earth_in_time", working_earth_in_time},
    Guard{"working_earth_after_control", working_earth_after_control},
    Guard{"line_end_second", line_end_second},
    Guard{"line_end_points", line_end_points},
    Guard{"line_end_proved", line_end_proved},
    Guard{"line_end_is_on", line_end_is_on},
    Guard{"control_off_parties_back", control_off_parties_back},
    Guard{"control_off_clear", control_off_clear},
    Guard{"control_off_cancelled", control_off_cancelled},
    Guard{"working_off_others_down", working_off_others_down},
    Guard{"earth_end_last", earth_end_last},
};

} // namespace

std::span<const Guard> earth_guards() {
    return kEarths;
}

} // namespace crossarm::visit::permit
