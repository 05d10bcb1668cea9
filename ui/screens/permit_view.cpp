// What the screens need of a permit, put together once after every entry.
#include "checklist/model/digest.hpp"
#include "ui/screens/view.hpp"

namespace crossarm::ui {

PermitView permit_view(const visit::permit::State& state, const model::Structure& structure,
                       const model::LimitLibrary& limits, const model::Register& reg, model::Timestamp now) {
    PermitView out;
    out.state = state;
    out.rules = visit::permit::rules_from(limits, structure);
    out.powers = visit::permit::powers_on(reg, model::day_of(now));
    out.steps = visit::permit::steps(state, out.rules, now);
    out.time_facts = visit::permit::time_facts(state, out.rules, now);
    out.sheet_digest = model::sha256_hex(visit::permit::sheet_text(state, structure.id));
    out.stale = visit::permit::stale(state, structure.id);
    return out;
}

} // namespace crossarm::ui
