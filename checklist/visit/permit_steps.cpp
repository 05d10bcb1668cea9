// The lines of the Permit screen, and what time says about the permit.
#include "checklist/visit/permit_facts.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace crossarm::visit::permit {

namespace {

constexpr double kMsInMinute = 60'000.0;
constexpr double kMsInHour = 3'600'000.0;

using MayMiss = std::optional<Refusal>;

MayMiss not_issued(const State& state) {
    return any_holds(state) ? MayMiss() : refuse("permit.no.nobody_issued", "issue");
}

MayMiss not_accepted(const State& state, model::Timestamp now) {
    for (const Party& party : state.parties) {
        if (party.holding == Holding::Issued) {
            return refuse("permit.no.not_accepted_yet", "accept",
                          {{"party", party.id}, {"person", party.holder}});
        }
        if (party.holding == Holding::Suspended) {
            return refuse("permit.no.is_suspended", "accept",
                          {{"party", party.id}, {"reason", party.reason}});
        }
        if (party.holding == Holding::Accepted && !in_time(state, party, now)) {
            return refuse("permit.no.out_of_time", "accept", {{"party", party.id}});
        }
    }
    return any_accepted(state) ? MayMiss() : refuse("permit.no.nobody_accepted", "accept");
}

MayMiss no_party_clear(const State& state, MayMiss (*missing)(const State&, const Party&)) {
    for (const Party& party : state.parties) {
        if (auto one = missing(state, party)) {
            return one;
        }
    }
    return std::nullopt;
}

MayMiss not_back(const State& state) {
    if (state.parties.empty() && !state.cancelled) {
        return refuse("permit.no.nobody_issued", "issue");
    }
    const auto held = std::ranges::find_if(state.parties, holds);
    return held == state.parties.end() ? MayMiss()
                                       : refuse("permit.no.party_holds", "hand_back", {{"party", held->id}});
}

MayMiss control_earths_on(const State& state) {
    const auto on = std::ranges::count_if(state.earths, [](const Earth& earth) {
        return earth.kind == EarthKind::Control && (earth.earth_end || earth.line_end);
    });
    return on == 0 ? MayMiss()
                   : refuse("permit.no.earths_on", "control_earths",
                            {{"count", model::Quantity{static_cast<double>(on)}}});
}

MayMiss locks_on(const State& state) {
    const auto locked = std::ranges::find_if(state.points, &Point::locked);
    return locked == state.points.end() ? MayMiss()
                                        : refuse("permit.no.locks_on", "locks", {{"point", locked->id}});
}

MayMiss first_of(const MayMiss& one, const MayMiss& two) {
    return one ? one : two;
}

} // namespace

std::vector<Step> steps(const State& state, const Rules& rules, model::Timestamp now) {
    // What led to the work is past when every party is back; control earths and proofs then may be gone.
    const bool past = state.cancelled || (!state.parties.empty() && !any_holds(state));
    std::vector<Step> list;
    const auto add = [&](const char* id, MayMiss missing) {
        list.push_back({id, !missing, std::move(missing)});
    };
    const auto before = [&](const char* id, MayMiss missing) {
        add(id, past ? MayMiss() : std::move(missing));
    };

    before("prepare", state.prepared ? MayMiss() : refuse("permit.no.not_prepared", "prepare"));
    before("points", no_points(state));
    before("supplies", no_supplies(state));
    before("proof_hv", no_proof(state, Side::Hv));
    before("proof_lv", no_proof(state, Side::Lv));
    before("earths", first_of(no_earth(state, rules, Side::Hv), no_earth(state, rules, Side::Lv)));
    before("zone", first_of(no_live_parts(state), no_zone(state)));
    before("issue", not_issued(state));
    before("accept", not_accepted(state, now));

    // Before anybody had accepted there is nobody and nothing to bring back.
    const bool worked = ever_accepted(state) || past;
    const auto after = [&](const char* id, MayMiss missing) {
        add(id, worked ? std::move(missing) : refuse("permit.no.nobody_accepted", "accept"));
    };
    after("people", no_party_clear(state, no_people_on));
    after("tools",
          no_party_clear(state, [](const State&, const Party& party) { return no_tools_missing(party); }));
    after("working_earths", no_party_clear(state, no_working_earths));
    add("hand_back", not_back(state));
    const MayMiss cancel = state.cancelled ? MayMiss() : refuse("permit.no.not_cancelled", "cancel");
    const MayMiss earths = past ? control_earths_on(state) : refuse("permit.no.nobody_back", "hand_back");
    if (rules.control_earths_off_after_cancelling) {
        add("cancel", cancel);
        add("control_earths", first_of(cancel, earths));
    } else {
        add("control_earths", earths);
        add("cancel", cancel);
    }
    add("locks", first_of(cancel, locks_on(state)));
    return list;
}

std::vector<model::Phrase> time_facts(const State& state, const Rules& rules, model::Timestamp now) {
    std::vector<model::Phrase> facts;
    if (now.utc_ms < state.latest_at.utc_ms) {
        facts.push_back({"permit.time.clock_back", {{"at", model::for_people(state.latest_at)}}});
    }
    for (const Party& party : state.parties) {
        if (now.utc_ms < party.until.utc_ms) {
            continue;
        }
        if (holds(party)) {
            const double minutes = static_cast<double>(now.utc_ms - party.until.utc_ms) / kMsInMinute;
            facts.push_back({"permit.time.run_out",
                             {{"party", party.id},
                              {"until", model::for_people(party.until)},
                              {"minutes", model::Quantity{std::floor(minutes), model::Unit::Minute}}}});
        }
        const auto on =
            std::ranges::count_if(state.on, [&](const auto& one) { return one.second == party.id; });
        if (on > 0) {
            facts.push_back({"permit.time.people_on",
                             {{"party", party.id}, {"count", model::Quantity{static_cast<double>(on)}}}});
        }
    }
    const auto first = first_issue(state);
    if (first && any_holds(state) &&
        static_cast<double>(now.utc_ms - first->utc_ms) > rules.most_hours * kMsInHour) {
        facts.push_back({"permit.time.too_long",
                         {{"hours", model::Quantity{rules.most_hours, model::Unit::Hour}},
                          {"since", model::for_people(*first)}}});
    }
    return facts;
}

} // namespace crossarm::visit::permit
