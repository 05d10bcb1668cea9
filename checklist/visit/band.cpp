// What the band across the top says, and why it is to be treated as live.
#include "checklist/visit/permit_facts.hpp"
#include "checklist/visit/state.hpp"

#include <algorithm>

namespace crossarm::visit {

namespace {

using model::Phrase;
using permit::Holding;
using permit::Party;
using Values = std::vector<std::pair<std::string, Phrase::Value>>;

std::optional<Phrase> of_party(const permit::State& state, const Party& party, model::Timestamp now) {
    Values values = {{"party", party.id}, {"holder", party.holder}};
    switch (party.holding) {
    case Holding::Suspended:
        values.emplace_back("reason", party.reason);
        return Phrase{"band.suspended", std::move(values)};
    case Holding::Accepted:
        values.emplace_back("at", model::for_people(party.until));
        if (now.utc_ms >= party.until.utc_ms) {
            return Phrase{"band.ran_out", std::move(values)};
        }
        return permit::in_time(state, party, now) ? std::nullopt : std::optional(Phrase{"band.clock", {}});
    case Holding::Issued:
        return Phrase{"band.not_accepted", std::move(values)};
    case Holding::HandedBack:
    case Holding::TakenBack:
        return std::nullopt;
    }
    return std::nullopt;
}

Phrase why_live(const permit::State& state, const permit::Rules& rules, model::Timestamp now) {
    if (state.irregular > 0) {
        return {"band.irregular", {{"count", std::to_string(state.irregular)}}};
    }
    if (state.cancelled) {
        return {"band.cancelled", {{"at", model::clock_for_people(state.cancelled_at)}}};
    }
    if (state.parties.empty()) {
        return {"band.no_permit", {}};
    }
    for (const Holding holding : {Holding::Suspended, Holding::Accepted, Holding::Issued}) {
        for (const Party& party : state.parties) {
            if (party.holding == holding) {
                if (auto why = of_party(state, party, now)) {
                    return *why;
                }
            }
        }
    }
    if (permit::any_accepted(state)) {
        // A party works and its time is good: something that the permit stands on is missing.
        const auto missing = permit::not_ready(state, rules);
        return missing ? missing->why : Phrase{"band.no_permit", {}};
    }
    return {permit::ever_accepted(state) ? "band.handed_back" : "band.no_permit", {}};
}

} // namespace

Band band(const permit::State& state, const permit::Rules& rules, model::Timestamp now) {
    Band out;
    out.permit = state.number;
    out.earths_on = permit::earths_on(state);
    if (!permit::in_force(state, rules, now)) {
        out.reason = why_live(state, rules, now);
        return out;
    }
    out.kind = Band::Kind::InForce;
    for (const Party& party : state.parties) {
        if (party.holding == Holding::Accepted && permit::in_time(state, party, now)) {
            out.holders.push_back(party.holder);
        }
    }
    if (!state.exceptions.empty()) {
        const permit::Exception& last = state.exceptions.back();
        out.kind = Band::Kind::InForceWithException;
        out.reason = {"band.exception." + last.matter,
                      {{"about", last.about}, {"reason", last.reason}, {"lead", last.by}}};
    }
    return out;
}

} // namespace crossarm::visit
