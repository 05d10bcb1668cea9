#include "checklist/rules/uprating_earth.hpp"

#include "checklist/rules/earthing.hpp"
#include "checklist/rules/temporary_earth.hpp"
#include "checklist/rules/uprating_check.hpp"

#include <algorithm>
#include <charconv>

namespace crossarm::rules {
namespace {

using model::Quantity;
using model::Unit;

std::optional<double> least_area_mm2(const EarthConductorReadings& r, const model::LimitSet& set) {
    const auto k = set.value("k." + r.metal, Unit::One);
    return k ? fault_area_mm2(r.fault_kA, r.clearing_s, *k) : std::nullopt;
}

Quantity ohm(double x) {
    return {x, Unit::Ohm};
}

} // namespace

std::optional<double> earth_conductor_mm2(const EarthConductorReadings& r, const model::LimitSet& set) {
    const auto by_heat = least_area_mm2(r, set);
    const auto least = set.value("least." + r.metal, Unit::SquareMillimetre);
    const model::LimitTable* sizes = set.table("sizes");
    if (!by_heat || !least || sizes == nullptr) {
        return std::nullopt;
    }
    std::optional<double> best;
    for (const model::LimitRow& row : sizes->rows) {
        const auto area = cell(*sizes, row, "area", Unit::SquareMillimetre);
        if (area && *area >= std::max(*by_heat, *least) && (!best || *area < *best)) {
            best = area;
        }
    }
    return best;
}

Outcome earth_conductor_check(const EarthConductorReadings& r, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "uprating.earth_conductor";
    const auto by_heat = least_area_mm2(r, set);
    const auto needed = earth_conductor_mm2(r, set);
    if (!by_heat || !needed || (r.fitted_mm2 && !within(*r.fitted_mm2, 1.0, 2000.0))) {
        return refuse(kSubject, say("no.uprating.earth_conductor"));
    }
    const Places places = {{"fault", kilo_ampere(r.fault_kA)},
                           {"clearing", Quantity{r.clearing_s, Unit::Second}},
                           {"needed", square_mm(*needed)},
                           {"fitted", square_mm(r.fitted_mm2.value_or(0.0))}};
    model::Verdict v =
        passes(kSubject, set.source_of("k." + r.metal), say("because.uprating.earth_conductor", places));
    v.workings = {
        {"work.uprating.fault", kilo_ampere(r.fault_kA), ""},
        {"work.uprating.clearing", {r.clearing_s, Unit::Second}, ""},
        {"work.uprating.k", count(set.value("k." + r.metal, Unit::One).value_or(0.0)), "A √s / mm²"},
        {"work.uprating.earth_heat", square_mm(*by_heat), "I × √t / k"},
        {"work.uprating.earth_needed", square_mm(*needed), "next size, not below the least one"}};
    if (!r.fitted_mm2) {
        marginal(v, say("because.uprating.earth_conductor_unknown", places),
                 say("action.uprating.measure_earth"));
    } else if (*r.fitted_mm2 < *needed) {
        fails(v, say("because.uprating.earth_conductor_small", places),
              say("action.uprating.larger_earth", places));
    }
    return v;
}

std::optional<double> electrode_allowed_ohm(double earth_fault_A, double clearing_s,
                                            const ElectrodeSets& sets) {
    const auto touch_V = permissible_touch_V(clearing_s, sets.touch);
    const auto factor = sets.earthing.value("touch.factor", Unit::One);
    const auto most = sets.electrode.value("electrode.most", Unit::Ohm);
    if (!touch_V || !factor || !most || !within(earth_fault_A, 1.0, 20'000.0)) {
        return std::nullopt;
    }
    return std::min(*most, *factor * *touch_V / earth_fault_A);
}

std::optional<int> rods_needed(double measured_ohm, int rods, double wanted_ohm,
                               const model::LimitSet& rods_set) {
    const model::LimitTable* table = rods_set.table("parallel");
    if (table == nullptr || !within(measured_ohm, 0.01, 10'000.0) || !within(wanted_ohm, 0.01, 10'000.0) ||
        rods < 1 || rods > 24) {
        return std::nullopt;
    }
    if (measured_ohm <= wanted_ohm) {
        return rods;
    }
    const auto one_over = rods == 1 ? std::optional(1.0) : parallel_rods_ohm(1.0, rods, rods_set);
    if (!one_over) {
        return std::nullopt;
    }
    const double one_rod_ohm = measured_ohm / *one_over;
    std::optional<int> best;
    for (const model::LimitRow& row : table->rows) {
        int n = 0;
        std::from_chars(row.key.data(), row.key.data() + row.key.size(), n);
        const auto together = n > rods ? parallel_rods_ohm(one_rod_ohm, n, rods_set) : std::nullopt;
        if (together && *together <= wanted_ohm && (!best || n < *best)) {
            best = n;
        }
    }
    return best;
}

Outcome electrode_check(const ElectrodeReadings& r, const ElectrodeSets& sets) {
    constexpr std::string_view kSubject = "uprating.electrode";
    Needs needs(sets.electrode);
    const double target = needs.take("electrode.target", Unit::Ohm);
    const double most = needs.take("electrode.most", Unit::Ohm);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    if (!r.measured_ohm || !within(*r.measured_ohm, 0.01, 10'000.0)) {
        return refuse(kSubject, say("no.uprating.electrode"));
    }
    const auto by_touch =
        r.earth_fault_A ? electrode_allowed_ohm(*r.earth_fault_A, r.clearing_s, sets) : std::nullopt;
    if (r.earth_fault_A && !by_touch) {
        return refuse(kSubject, say("no.uprating.electrode"));
    }
    const double allowed = by_touch.value_or(most);
    const auto rods = rods_needed(*r.measured_ohm, r.rods.value_or(1), std::min(allowed, target), sets.rods);
    const Places places = {{"measured", ohm(*r.measured_ohm)},
                           {"allowed", ohm(allowed)},
                           {"target", ohm(target)},
                           {"rods", count(rods.value_or(0))}};
    model::Verdict v = passes(kSubject,
                              allowed < most ? sets.earthing.source_of("touch.factor")
                                             : sets.electrode.source_of("electrode.most"),
                              say("because.uprating.electrode", places));
    v.workings = {{"work.uprating.electrode", ohm(*r.measured_ohm), ""}};
    if (r.earth_fault_A) {
        v.workings.push_back({"work.uprating.earth_fault", ampere(*r.earth_fault_A), ""});
    }
    v.workings.push_back(
        {"work.uprating.electrode_allowed", ohm(allowed),
         r.earth_fault_A ? "factor × touch voltage / earth fault, not above the set's most" : ""});
    const bool high = *r.measured_ohm > std::min(allowed, target);
    if (high && rods && r.rods) {
        v.workings.push_back({"work.uprating.rods", count(*rods), "F × R1 / n"});
    }
    const model::Phrase mend = high && rods && r.rods ? say("action.uprating.more_rods", places)
                                                      : say("action.uprating.better_electrode", places);
    if (*r.measured_ohm > allowed) {
        fails(v, say("because.uprating.electrode_high", places), mend);
    } else if (*r.measured_ohm > target) {
        v.source = sets.electrode.source_of("electrode.target");
        marginal(v, say("because.uprating.electrode_near", places), mend);
    } else if (!r.earth_fault_A) {
        marginal(v, say("because.uprating.electrode_no_fault", places),
                 say("action.uprating.ask_earth_fault"));
    }
    v.cautions.push_back(say("caution.uprating.earth"));
    return v;
}

} // namespace crossarm::rules
