#include "checklist/rules/uprating_support.hpp"

#include "checklist/rules/uprating_check.hpp"

#include <algorithm>

namespace crossarm::rules {
namespace {

using model::Quantity;
using model::Unit;

Quantity kilogram(double x) {
    return {x, Unit::Kilogram};
}
Quantity metre(double x) {
    return {x, Unit::Metre};
}

Outcome by_rule_of_thumb(const MassReadings& r, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "uprating.mass";
    const model::LimitTable* table = set.table("support");
    const model::LimitRow* row = table == nullptr ? nullptr : row_of(*table, r.support);
    const auto up_to = row == nullptr ? std::nullopt : cell(*table, *row, "up_to", Unit::KilovoltAmpere);
    if (!up_to) {
        return refuse(kSubject, say("no.uprating.mass_limit"));
    }
    const Places places = {{"mass", kilogram(*r.mass_kg)},
                           {"rating", kilo_volt_ampere(r.rating_kVA)},
                           {"most", kilo_volt_ampere(*up_to)}};
    model::Verdict v = passes(kSubject, source_of(set, *table, *row), {});
    v.workings = {{"work.uprating.mass", kilogram(*r.mass_kg), ""},
                  {"work.uprating.support_most", kilo_volt_ampere(*up_to), "rule of thumb"}};
    if (r.rating_kVA > *up_to) {
        fails(v, say("because.uprating.mass_beyond_practice", places), say("action.uprating.ask_structure"));
    } else {
        marginal(v, say("because.uprating.mass_practice", places), say("action.uprating.ask_structure"));
    }
    return v;
}

const model::LimitRow* clearance_row(const model::LimitTable& table, const AirReadings& r) {
    for (const model::LimitRow& row : table.rows) {
        const auto up_to = cell(table, row, "up_to", Unit::Kilovolt);
        const auto impulse = cell(table, row, "impulse", Unit::Kilovolt);
        if (up_to && impulse && 1.09 * r.hv_kV <= *up_to && r.impulse_kV <= *impulse) {
            return &row;
        }
    }
    return nullptr;
}

} // namespace

Outcome mass_check(const MassReadings& r, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "uprating.mass";
    Needs needs(set);
    const double near = needs.take("mass.marginal", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    if (!r.mass_kg) {
        return refuse(kSubject, say("no.uprating.mass"));
    }
    if (!within(*r.mass_kg, 1.0, 20'000.0) || !within(r.other_kg, 0.0, 20'000.0) ||
        (r.limit_kg && !within(*r.limit_kg, 1.0, 50'000.0))) {
        return refuse(kSubject, say("no.uprating.mass_reading"));
    }
    if (!r.limit_kg) {
        return by_rule_of_thumb(r, set);
    }
    const double all_kg = *r.mass_kg + r.other_kg;
    const Places places = {
        {"mass", kilogram(*r.mass_kg)}, {"all", kilogram(all_kg)}, {"limit", kilogram(*r.limit_kg)}};
    model::Verdict v = passes(kSubject, set.source_of("mass.marginal"), say("because.uprating.mass", places));
    v.source.clause = "the structure's own limit, from the register";
    v.workings = {{"work.uprating.mass", kilogram(*r.mass_kg), "plate or offer, oil included"},
                  {"work.uprating.mass_other", kilogram(r.other_kg), ""},
                  {"work.uprating.mass_all", kilogram(all_kg), ""},
                  {"work.uprating.mass_limit", kilogram(*r.limit_kg), ""}};
    if (all_kg > *r.limit_kg) {
        fails(v, say("because.uprating.mass_over", places), say("action.uprating.stronger_structure"));
    } else if (all_kg > near / 100.0 * *r.limit_kg) {
        marginal(v, say("because.uprating.mass_near", places), say("action.uprating.ask_structure"));
    }
    v.cautions.push_back(say("caution.uprating.mass"));
    return v;
}

Outcome air_check(const AirReadings& r, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "uprating.clearance";
    Needs needs(set);
    const double add_m = needs.take("height.add", Unit::Metre);
    const double least_m = needs.take("height.least", Unit::Metre);
    const double near = needs.take("marginal.add", Unit::Percent);
    const model::LimitTable* table = needs.table("clearance");
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const bool bad = !within(r.hv_kV, 0.1, 72.5) || !within(r.impulse_kV, 20.0, 400.0) ||
                     (r.spacing_m && !within(*r.spacing_m, 0.0, 10.0)) ||
                     (r.height_m && !within(*r.height_m, 0.0, 30.0));
    if (bad || (!r.spacing_m && !r.height_m)) {
        return refuse(kSubject, say("no.uprating.clearance"));
    }
    const model::LimitRow* row = clearance_row(*table, r);
    const auto spacing_m = row == nullptr ? std::nullopt : cell(*table, *row, "clearance", Unit::Metre);
    if (!spacing_m) {
        return refuse(kSubject, say("no.uprating.clearance_row", {{"set", set.title}}));
    }
    const double height_m = std::max(least_m, add_m + *spacing_m);
    const Places places = {{"spacing", metre(r.spacing_m.value_or(0.0))},
                           {"spacing_least", metre(*spacing_m)},
                           {"height", metre(r.height_m.value_or(0.0))},
                           {"height_least", metre(height_m)}};
    model::Verdict v =
        passes(kSubject, source_of(set, *table, *row), say("because.uprating.clearance", places));
    v.workings = {{"work.uprating.spacing_least", metre(*spacing_m), ""},
                  {"work.uprating.height_least", metre(height_m), ""}};
    const auto below = [](std::optional<double> measured, double least) {
        return measured && *measured < least;
    };
    const double more = 1.0 + near / 100.0;
    if (below(r.spacing_m, *spacing_m) || below(r.height_m, height_m)) {
        fails(v, say("because.uprating.clearance_short", places), say("action.uprating.more_air"));
    } else if (!r.spacing_m || !r.height_m) {
        marginal(v, say("because.uprating.clearance_partly", places), say("action.uprating.measure_air"));
    } else if (below(r.spacing_m, more * *spacing_m) || below(r.height_m, more * height_m)) {
        marginal(v, say("because.uprating.clearance_near", places), say("action.uprating.more_air"));
    }
    v.cautions.push_back(say("caution.uprating.clearance"));
    return v;
}

} // namespace crossarm::rules
