#include "checklist/visit/fold_permit.hpp"

namespace crossarm::visit {

namespace {

// Everyone who is named in an act: who may do what was asked when it was done.
struct Names {
    std::set<std::string>& all;

    void operator()(const model::permit::EarthEndOn& act) const { all.insert(act.fixed_by); }
    void operator()(const model::permit::Briefed& act) const { all.insert(act.person); }
    void operator()(const model::permit::Issued& act) const {
        all.insert(act.holder);
        all.insert(act.second);
    }
    void operator()(const model::permit::Transferred& act) const { all.insert(act.holder); }
    void operator()(const model::permit::SignedOn& act) const { all.insert(act.person); }
    void operator()(const model::permit::SignedOff& act) const { all.insert(act.person); }
    void operator()(const model::permit::Cancelled& act) const { all.insert(act.second); }
    template<typename Other>
    void operator()(const Other&) const {}
};

const model::permit::Act* as_act(const model::Entry& entry) {
    const auto* acted = std::get_if<model::PermitActed>(&entry.body);
    return acted == nullptr ? nullptr : &acted->act;
}

permit::Powers everybody(const std::vector<model::Entry>& entries) {
    std::set<std::string> all;
    for (const model::Entry& entry : entries) {
        all.insert(entry.by);
        if (const auto* act = as_act(entry)) {
            std::visit(Names{all}, *act);
        }
    }
    return {all, all, all, all};
}

std::string preparing_device(const std::vector<model::Entry>& entries) {
    for (const model::Entry& entry : entries) {
        const auto* act = as_act(entry);
        if (act != nullptr && std::holds_alternative<model::permit::Prepared>(*act)) {
            return entry.device;
        }
    }
    return {};
}

} // namespace

permit::State fold_permit(const std::vector<model::Entry>& entries, const std::string& structure,
                          const permit::Rules& rules) {
    permit::State state;
    const permit::Powers powers = everybody(entries);
    const std::string device = preparing_device(entries);
    std::size_t elsewhere = 0;
    for (const model::Entry& entry : entries) {
        const auto* act = as_act(entry);
        if (act == nullptr) {
            continue;
        }
        // Before it is prepared there is only the briefing, which every tablet may hear.
        const bool of_briefing = std::holds_alternative<model::permit::Briefed>(*act);
        if (!device.empty() && entry.device != device && !of_briefing) {
            ++elsewhere;
            continue;
        }
        const bool regular = !permit::refusal({rules, powers, state, *act, entry.by, entry.at, structure});
        state = permit::apply(std::move(state), *act, entry.by, entry.at);
        state.irregular += regular ? 0U : 1U;
    }
    state.device = device;
    state.irregular += elsewhere;
    return state;
}

} // namespace crossarm::visit
