#include "checklist/visit/confirm.hpp"

namespace crossarm::visit {

namespace {

namespace acts = model::permit;
using People = std::vector<std::string>;

struct OfAct {
    const std::string& who;

    People operator()(const acts::Briefed& act) const { return {act.person}; }
    People operator()(const acts::Issued& act) const { return {who, act.second}; }
    People operator()(const acts::Accepted& /*act*/) const { return {who}; }
    People operator()(const acts::Resumed& /*act*/) const { return {who}; }
    People operator()(const acts::Transferred& /*act*/) const { return {who}; }
    People operator()(const acts::Extended& /*act*/) const { return {who}; }
    People operator()(const acts::TakenBack& /*act*/) const { return {who}; }
    People operator()(const acts::SignedOn& act) const { return {act.person}; }
    // With a reason somebody else says that this person has left.
    People operator()(const acts::SignedOff& act) const { return {act.reason.empty() ? act.person : who}; }
    People operator()(const acts::LeadDecided& /*act*/) const { return {who}; }
    People operator()(const acts::HandedBack& /*act*/) const { return {who}; }
    People operator()(const acts::Cancelled& act) const { return {who, act.second}; }
    template<typename Other>
    People operator()(const Other& /*act*/) const {
        return {};
    }
};

struct OfIntent {
    const std::string& who;

    People operator()(const ActOnPermit& intent) const { return std::visit(OfAct{who}, intent.act); }
    People operator()(const SignVisit& /*intent*/) const { return {who}; }
    People operator()(const DecideDanger& /*intent*/) const { return {who}; }
    template<typename Other>
    People operator()(const Other& /*intent*/) const {
        return {};
    }
};

} // namespace

std::vector<std::string> confirmers(const Intent& intent, const std::string& who) {
    return std::visit(OfIntent{who}, intent);
}

} // namespace crossarm::visit
