// Guards of people and tools: briefed, signed on and off, counted out and in.
#include "checklist/visit/check_value.hpp"
#include "checklist/visit/permit_facts.hpp"
#include "checklist/visit/permit_guards.hpp"

#include <array>

namespace crossarm::visit::permit {

namespace {

constexpr int kMostTools = 10'000;

MayRefuse briefed_self(const Wished& w) {
    const auto* a = as<acts::Briefed>(w);
    return a != nullptr && a->person != w.by ? refuse("permit.no.only_self", "people") : MayRefuse();
}

MayRefuse on_accepted(const Wished& w) {
    const auto* a = as<acts::SignedOn>(w);
    const Party* party = a != nullptr ? party_of(w.state, a->party) : nullptr;
    return a != nullptr && (party == nullptr || party->holding != Holding::Accepted)
               ? refuse("permit.no.not_accepted", "accept", {{"party", a->party}})
               : MayRefuse();
}
MayRefuse on_in_time(const Wished& w) {
    const auto* a = as<acts::SignedOn>(w);
    const Party* party = a != nullptr ? party_of(w.state, a->party) : nullptr;
    return party != nullptr && !in_time(w.state, *party, w.at)
               ? refuse("permit.no.out_of_time", "accept", {{"party", party->id}})
               : MayRefuse();
}
MayRefuse on_self(const Wished& w) {
    const auto* a = as<acts::SignedOn>(w);
    return a != nullptr && a->person != w.by ? refuse("permit.no.only_self", "people") : MayRefuse();
}
MayRefuse on_briefed(const Wished& w) {
    const auto* a = as<acts::SignedOn>(w);
    return a != nullptr && !w.state.briefed.contains(a->person)
               ? refuse("permit.no.not_briefed", "people", {{"person", a->person}})
               : MayRefuse();
}
MayRefuse on_once(const Wished& w) {
    const auto* a = as<acts::SignedOn>(w);
    return a != nullptr && w.state.on.contains(a->person)
               ? refuse("permit.no.on_already", "people", {{"person", a->person}})
               : MayRefuse();
}

MayRefuse off_is_on(const Wished& w) {
    const auto* a = as<acts::SignedOff>(w);
    return a != nullptr && !w.state.on.contains(a->person)
               ? refuse("permit.no.not_on", "people", {{"person", a->person}})
               : MayRefuse();
}
MayRefuse off_reason(const Wished& w) {
    const auto* a = as<acts::SignedOff>(w);
    return a != nullptr && a->person != w.by && is_blank(a->reason) ? refuse("permit.no.off_reason", "people")
                                                                    : MayRefuse();
}

MayRefuse tools_out_accepted(const Wished& w) {
    const auto* a = as<acts::ToolsOut>(w);
    const Party* party = a != nullptr ? party_of(w.state, a->party) : nullptr;
    return a != nullptr && (party == nullptr || party->holding != Holding::Accepted)
               ? refuse("permit.no.not_accepted", "accept", {{"party", a->party}})
               : MayRefuse();
}
MayRefuse tools_out_count(const Wished& w) {
    const auto* a = as<acts::ToolsOut>(w);
    const Party* party = a != nullptr ? party_of(w.state, a->party) : nullptr;
    const int out = party != nullptr ? party->tools_out : 0;
    return a != nullptr && (a->count < 1 || a->count > kMostTools - out) ? refuse("permit.no.count", "tools")
                                                                         : MayRefuse();
}
MayRefuse tools_in_count(const Wished& w) {
    const auto* a = as<acts::ToolsIn>(w);
    const Party* party = a != nullptr ? party_of(w.state, a->party) : nullptr;
    return a != nullptr && (party == nullptr || a->count < 1 || a->count > tools_missing(*party))
               ? refuse("permit.no.more_in_than_out", "tools", {{"party", a->party}})
               : MayRefuse();
}

constexpr std::array kPeople = {
    Guard{"briefed_self", briefed_self},
    Guard{"on_accepted", on_accepted},
    Guard{"on_in_time", on_in_time},
    Guard{"on_self", on_self},
    Guard{"on_briefed", on_briefed},
    Guard{"on_once", on_once},
    Guard{"off_is_on", off_is_on},
    Guard{"off_reason", off_reason},
    Guard{"tools_out_accepted", tools_out_accepted},
    Guard{"tools_out_count", tools_out_count},
    Guard{"tools_in_count", tools_in_count},
};

} // namespace

std::span<const Guard> people_guards() {
    return kPeople;
}

} // namespace crossarm::visit::permit
