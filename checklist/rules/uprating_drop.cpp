#include "checklist/rules/uprating_drop.hpp"

#include "checklist/rules/uprating_check.hpp"

#include <cmath>
#include <numbers>

namespace crossarm::rules {
namespace {

using model::Quantity;
using model::Unit;

constexpr std::string_view kSubject = "uprating.drop";

std::string metal_name(Metal metal) {
    return metal == Metal::Copper || metal == Metal::TinnedCopper ? "copper" : "aluminium";
}

} // namespace

std::optional<double> resistance_ohm_km(Metal metal, double area_mm2, double at_C,
                                        const model::LimitSet& conductors) {
    const model::LimitTable* table = conductors.table(metal_name(metal));
    const auto alpha = conductors.value("alpha." + metal_name(metal), Unit::One);
    const model::LimitRow* row = table == nullptr || !within(area_mm2, 1.0, 1000.0)
                                     ? nullptr
                                     : row_of(*table, model::number_for_people(area_mm2));
    const auto r20 = row == nullptr ? std::nullopt : cell(*table, *row, "resistance", Unit::OhmPerKilometre);
    if (!r20 || !alpha || !within(at_C, 20.0, 250.0)) {
        return std::nullopt;
    }
    return *r20 * (1.0 + *alpha * (at_C - 20.0));
}

std::optional<double> drop_V_per_A_km(Metal metal, double area_mm2, double at_C, double power_factor,
                                      const model::LimitSet& conductors) {
    const auto r = resistance_ohm_km(metal, area_mm2, at_C, conductors);
    const auto x = conductors.value("reactance", Unit::OhmPerKilometre);
    if (!r || !x || !within(power_factor, 0.0, 1.0)) {
        return std::nullopt;
    }
    return std::numbers::sqrt3 * (*r * power_factor + *x * std::sqrt(1.0 - power_factor * power_factor));
}

std::optional<double> worst_drop_V_per_A_km(Metal metal, double area_mm2, double at_C,
                                            const model::LimitSet& conductors) {
    const auto r = resistance_ohm_km(metal, area_mm2, at_C, conductors);
    const auto x = conductors.value("reactance", Unit::OhmPerKilometre);
    if (!r || !x) {
        return std::nullopt;
    }
    return std::numbers::sqrt3 * std::hypot(*r, *x);
}

std::optional<double> drop_V(const Stretch& s, double power_factor, const model::LimitSet& conductors) {
    const auto each = drop_V_per_A_km(s.metal, s.area_mm2, s.hot_C, power_factor, conductors);
    if (!each || s.runs < 1 || s.runs > 8 || !within(s.length_m, 0.0, 20'000.0) ||
        !within(s.current_A, 0.0, 20'000.0)) {
        return std::nullopt;
    }
    return *each * s.current_A / s.runs * s.length_m / 1000.0;
}

Outcome drop_check(const DropReadings& r, const model::LimitSet& conductors, const model::LimitSet& drop,
                   const model::LimitSet& supply) {
    Needs needs(drop);
    const double most = needs.take("drop.most", Unit::Percent);
    const double near = needs.take("drop.marginal", Unit::Percent);
    const auto lowest_V = supply.value("voltage.low", Unit::Volt);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const auto in_cable = drop_V(r.cable, r.power_factor, conductors);
    const auto in_main = r.main ? drop_V(*r.main, r.power_factor, conductors) : std::optional(0.0);
    const auto inside = r.losses ? regulation(*r.losses, r.share, r.power_factor) : std::nullopt;
    if (!in_cable || !in_main || !within(r.lv_V, 100.0, 1000.0) || !lowest_V || (r.losses && !inside)) {
        return refuse(kSubject, say("no.uprating.drop"));
    }
    const double along = 100.0 * (*in_cable + *in_main) / r.lv_V;
    const double inside_percent = inside.value_or(Regulation{}).exact_percent;
    const double left_V =
        (r.lv_V * (1.0 - inside_percent / 100.0) - *in_cable - *in_main) / std::numbers::sqrt3;
    const Places places = {{"drop", percent(along)},
                           {"most", percent(most)},
                           {"left", Quantity{left_V, Unit::Volt}},
                           {"lowest", Quantity{*lowest_V, Unit::Volt}}};
    model::Verdict v = passes(kSubject, drop.source_of("drop.most"), say("because.uprating.drop", places));
    v.workings = {
        {"work.uprating.drop_cable", {*in_cable, Unit::Volt}, "√3 × I × L × (r cos + x sin) / runs"}};
    if (r.main) {
        v.workings.push_back({"work.uprating.drop_main", {*in_main, Unit::Volt}, "the same along the main"});
    }
    if (inside) {
        v.workings.push_back(
            {"work.uprating.regulation", percent(inside_percent), "|1 + n (er + j ex) (cos - j sin)| - 1"});
    }
    v.workings.push_back({"work.uprating.drop", percent(along), "of the no-load voltage"});
    v.workings.push_back({"work.uprating.voltage_left", {left_V, Unit::Volt}, "phase to neutral"});
    if (along > most) {
        fails(v, say("because.uprating.drop_over", places), say("action.uprating.shorter_main"));
    } else if (left_V < *lowest_V) {
        v.source = supply.source_of("voltage.low");
        fails(v, say("because.uprating.voltage_low", places), say("action.uprating.shorter_main"));
    } else if (!r.main || !r.losses) {
        marginal(v, say("because.uprating.drop_partly", places), say("action.uprating.measure_main"));
    } else if (along > near) {
        v.source = drop.source_of("drop.marginal");
        marginal(v, say("because.uprating.drop_near", places), say("action.uprating.shorter_main"));
    }
    return v;
}

} // namespace crossarm::rules
