#include "checklist/visit/permit_facts.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace crossarm::visit::permit {

namespace {

constexpr std::array<std::string_view, 4> kConductors = {"A", "B", "C", "N"};
constexpr double kMsInMinute = 60'000.0;

template<typename Items>
const typename Items::value_type* by_id(const Items& items, const std::string& id) {
    const auto found = std::ranges::find_if(items, [&](const auto& one) { return one.id == id; });
    return found == items.end() ? nullptr : &*found;
}

} // namespace

std::span<const std::string_view> conductors(Side side) {
    return std::span(kConductors).first(side == Side::Hv ? 3 : 4);
}

const Party* party_of(const State& state, const std::string& id) {
    return by_id(state.parties, id);
}
const Earth* earth_of(const State& state, const std::string& id) {
    return by_id(state.earths, id);
}
const Point* point_of(const State& state, const std::string& id) {
    return by_id(state.points, id);
}

const Proof& proof_of(const State& state, Side side) {
    return side == Side::Hv ? state.hv : state.lv;
}

bool is_whole(const Proof& proof, Side side) {
    return proof.before && proof.after &&
           std::ranges::all_of(conductors(side), [&](std::string_view conductor) {
               return proof.without_indication.contains(conductor);
           });
}

bool is_fresh(const Proof& proof, Side side, const Rules& rules, model::Timestamp now) {
    const auto age_ms = static_cast<double>(now.utc_ms - proof.at.utc_ms);
    return is_whole(proof, side) && age_ms >= 0.0 && age_ms <= rules.proof_minutes * kMsInMinute;
}

bool points_locked(const State& state) {
    const auto on = [](Side side) { return [side](const Point& point) { return point.side == side; }; };
    return std::ranges::any_of(state.points, on(Side::Hv)) &&
           std::ranges::any_of(state.points, on(Side::Lv)) &&
           std::ranges::all_of(state.points, [](const Point& point) { return point.open && point.locked; });
}

bool control_earth_on(const State& state, Side side) {
    return std::ranges::any_of(state.earths, [side](const Earth& earth) {
        return earth.kind == EarthKind::Control && earth.side == side && earth.earth_end && earth.line_end;
    });
}

bool line_end_on(const State& state, Side side) {
    return std::ranges::any_of(state.earths,
                               [side](const Earth& earth) { return earth.side == side && earth.line_end; });
}

bool needs_earth(const State& state, const Rules& rules, Side side) {
    if (side == Side::Hv || rules.earth_lv_too || !state.supplies) {
        return true;
    }
    const auto& s = *state.supplies;
    return s.generators == "earthed" || s.solar == "earthed" || s.ring == "earthed";
}

bool earth_excused(const State& state, Side side) {
    return std::ranges::any_of(state.exceptions, [side](const Exception& one) {
        return one.matter == "earth_not_fitted" && one.about == word_of(side);
    });
}

const char* word_of(Side side) {
    return side == Side::Hv ? "hv" : "lv";
}

bool holds(const Party& party) {
    return party.holding == Holding::Issued || party.holding == Holding::Accepted ||
           party.holding == Holding::Suspended;
}

bool any_holds(const State& state) {
    return std::ranges::any_of(state.parties, holds);
}

bool any_accepted(const State& state) {
    return std::ranges::any_of(state.parties,
                               [](const Party& party) { return party.holding == Holding::Accepted; });
}

bool in_time(const State& state, const Party& party, model::Timestamp now) {
    return now.utc_ms < party.until.utc_ms && now.utc_ms >= state.latest_at.utc_ms;
}

std::optional<model::Timestamp> first_issue(const State& state) {
    const auto first = std::ranges::min_element(state.parties, {},
                                                [](const Party& party) { return party.issued_at.utc_ms; });
    return first == state.parties.end() ? std::nullopt : std::optional(first->issued_at);
}

int tools_missing(const Party& party) {
    return party.tools_out - party.tools_in;
}

bool working_earth_on(const State& state, const std::string& party) {
    return std::ranges::any_of(state.earths, [&](const Earth& earth) {
        return earth.kind == EarthKind::Working && earth.party == party &&
               (earth.earth_end || earth.line_end);
    });
}

std::optional<Refusal> no_people_on(const State& state, const Party& party) {
    const auto on = std::ranges::count_if(state.on, [&](const auto& one) { return one.second == party.id; });
    return on == 0 ? std::nullopt
                   : std::optional(
                         refuse("permit.no.people_on", "people",
                                {{"party", party.id}, {"count", model::Quantity{static_cast<double>(on)}}}));
}
std::optional<Refusal> no_tools_missing(const Party& party) {
    const int missing = tools_missing(party);
    return missing == 0 ? std::nullopt
                        : std::optional(refuse("permit.no.tools_missing", "tools",
                                               {{"party", party.id},
                                                {"count", model::Quantity{static_cast<double>(missing)}}}));
}
std::optional<Refusal> no_working_earths(const State& state, const Party& party) {
    return working_earth_on(state, party.id)
               ? std::optional(refuse("permit.no.working_earth_on", "working_earths", {{"party", party.id}}))
               : std::nullopt;
}
std::optional<Refusal> not_clear(const State& state, const Party& party) {
    for (const auto& missing :
         {no_people_on(state, party), no_tools_missing(party), no_working_earths(state, party)}) {
        if (missing) {
            return missing;
        }
    }
    return std::nullopt;
}

std::optional<Refusal> no_points(const State& state) {
    return points_locked(state) ? std::nullopt : std::optional(refuse("permit.no.points", "points"));
}
std::optional<Refusal> no_supplies(const State& state) {
    return state.supplies ? std::nullopt : std::optional(refuse("permit.no.supplies", "supplies"));
}
std::optional<Refusal> no_proof(const State& state, Side side) {
    if (is_whole(proof_of(state, side), side)) {
        return std::nullopt;
    }
    return side == Side::Hv ? refuse("permit.no.proof_hv", "proof_hv")
                            : refuse("permit.no.proof_lv", "proof_lv");
}
std::optional<Refusal> no_earth(const State& state, const Rules& rules, Side side) {
    if (!needs_earth(state, rules, side) || control_earth_on(state, side) || earth_excused(state, side)) {
        return std::nullopt;
    }
    return refuse(side == Side::Hv ? "permit.no.earth_hv" : "permit.no.earth_lv", "earths");
}
std::optional<Refusal> no_live_parts(const State& state) {
    return state.live_parts.empty() ? std::optional(refuse("permit.no.live_parts", "zone")) : std::nullopt;
}
std::optional<Refusal> no_zone(const State& state) {
    return state.zone.empty() ? std::optional(refuse("permit.no.zone", "zone")) : std::nullopt;
}

std::optional<Refusal> not_ready(const State& state, const Rules& rules) {
    for (const auto& missing : {no_points(state), no_supplies(state), no_proof(state, Side::Hv),
                                no_proof(state, Side::Lv), no_earth(state, rules, Side::Hv),
                                no_earth(state, rules, Side::Lv), no_live_parts(state), no_zone(state)}) {
        if (missing) {
            return missing;
        }
    }
    return std::nullopt;
}

Refusal refuse(std::string key, std::string step,
               std::vector<std::pair<std::string, model::Phrase::Value>> values) {
    return {{std::move(key), std::move(values)}, std::move(step)};
}

// ---- what others ask --------------------------------------------------------------------------------

bool has_begun(const State& state) {
    return state.cancelled || !state.earths.empty() || !state.parties.empty() || !state.on.empty() ||
           std::ranges::any_of(state.points, [](const Point& point) {
               return point.open || point.locked || !point.position.empty();
           });
}

int earths_on(const State& state) {
    return static_cast<int>(std::ranges::count_if(
        state.earths, [](const Earth& earth) { return earth.earth_end || earth.line_end; }));
}

bool in_force(const State& state, const Rules& rules, model::Timestamp now) {
    return state.prepared && !state.cancelled && state.irregular == 0 && !not_ready(state, rules) &&
           std::ranges::any_of(state.parties, [&](const Party& party) {
               return party.holding == Holding::Accepted && in_time(state, party, now);
           });
}

bool ever_accepted(const State& state) {
    return std::ranges::any_of(state.parties, &Party::ever_accepted);
}

std::optional<Refusal> bars_supply(const State& state, bool locks) {
    if (!state.prepared && !has_begun(state)) {
        return std::nullopt;
    }
    if (!state.on.empty()) {
        return refuse("permit.no.person_on", "people", {{"person", state.on.begin()->first}});
    }
    for (const Party& party : state.parties) {
        if (const auto missing = not_clear(state, party)) {
            return missing;
        }
        if (holds(party)) {
            return refuse("permit.no.party_holds", party.holding == Holding::Issued ? "issue" : "hand_back",
                          {{"party", party.id}});
        }
    }
    if (!state.cancelled) {
        return refuse("permit.no.not_cancelled", "cancel");
    }
    if (const int count = earths_on(state); count > 0) {
        return refuse("permit.no.earths_on", "control_earths",
                      {{"count", model::Quantity{static_cast<double>(count)}}});
    }
    if (locks) {
        for (const Point& point : state.points) {
            if (point.locked) {
                return refuse("permit.no.locks_on", "locks", {{"point", point.id}});
            }
        }
    }
    return std::nullopt;
}

bool is_closed(const State& state) {
    return state.cancelled && !bars_supply(state, false);
}

} // namespace crossarm::visit::permit
