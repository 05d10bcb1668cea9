#include "checklist/rules/uprating_withstand.hpp"

#include "checklist/rules/uprating_check.hpp"

#include <cmath>

namespace crossarm::rules {
namespace {

using model::Quantity;
using model::Unit;

constexpr std::string_view kSubject = "uprating.short_circuit";

const model::LimitRow* k_row(Metal metal, std::string_view insulation, double area_mm2,
                             const model::LimitTable& table) {
    const std::string key =
        std::string(metal == Metal::Copper ? "copper/" : "aluminium/") + std::string(insulation);
    for (const std::string& each : {key, key + "/large"}) {
        const model::LimitRow* row = row_of(table, each);
        const auto most =
            row == nullptr ? std::nullopt : cell(table, *row, "area_most", Unit::SquareMillimetre);
        if (most && area_mm2 <= *most) {
            return row;
        }
    }
    return nullptr;
}

} // namespace

std::optional<double> cable_k(Metal metal, std::string_view insulation, double area_mm2,
                              const model::LimitSet& set) {
    const model::LimitTable* table = set.table("k");
    if (table == nullptr || !within(area_mm2, 1.0, 2000.0)) {
        return std::nullopt;
    }
    const model::LimitRow* row = k_row(metal, insulation, area_mm2, *table);
    return row == nullptr ? std::nullopt : cell(*table, *row, "k", Unit::One);
}

std::optional<double> withstand_kA(Metal metal, std::string_view insulation, double area_mm2, double seconds,
                                   const model::LimitSet& set) {
    const auto k = cable_k(metal, insulation, area_mm2, set);
    const auto most_s = set.value("time.most", Unit::Second);
    if (!k || !most_s || !within(seconds, 1e-3, *most_s)) {
        return std::nullopt;
    }
    return *k * area_mm2 / std::sqrt(seconds) / 1000.0;
}

std::optional<double> withstand_s(Metal metal, std::string_view insulation, double area_mm2, double fault_kA,
                                  const model::LimitSet& set) {
    const auto k = cable_k(metal, insulation, area_mm2, set);
    if (!k || !within(fault_kA, 1e-3, 200.0)) {
        return std::nullopt;
    }
    const double root = *k * area_mm2 / (fault_kA * 1000.0);
    return root * root;
}

Outcome withstand_check(const Cable& cable, const CablePlace& place, double fault_kA, double seconds,
                        const model::LimitSet& set) {
    Needs needs(set);
    const double most_s = needs.take("time.most", Unit::Second);
    const double near = needs.take("time.marginal", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    if (seconds > most_s) {
        return refuse(kSubject, say("no.uprating.not_adiabatic", {{"most", Quantity{most_s, Unit::Second}}}));
    }
    const auto k = cable_k(place.metal, place.insulation, cable.area_mm2, set);
    const auto takes_s = withstand_s(place.metal, place.insulation, cable.area_mm2, fault_kA, set);
    if (!k || !takes_s || !within(seconds, 1e-3, most_s)) {
        return refuse(kSubject, say("no.uprating.withstand"));
    }
    const model::LimitTable& table = *set.table("k");
    const Places places = {{"size", square_mm(cable.area_mm2)},
                           {"fault", kilo_ampere(fault_kA)},
                           {"takes", Quantity{*takes_s, Unit::Second}},
                           {"clearing", Quantity{seconds, Unit::Second}}};
    model::Verdict v =
        passes(kSubject, source_of(set, table, *k_row(place.metal, place.insulation, cable.area_mm2, table)),
               say("because.uprating.withstand", places));
    v.workings = {{"work.uprating.fault_here", kilo_ampere(fault_kA), ""},
                  {"work.uprating.clearing", {seconds, Unit::Second}, ""},
                  {"work.uprating.k", count(*k), "A √s / mm²"},
                  {"work.uprating.takes", {*takes_s, Unit::Second}, "(k × S / I)²"}};
    if (*takes_s < seconds) {
        fails(v, say("because.uprating.withstand_not", places), say("action.uprating.faster_or_larger"));
    } else if (seconds > near / 100.0 * *takes_s) {
        marginal(v, say("because.uprating.withstand_near", places), say("action.uprating.faster_or_larger"));
    }
    return v;
}

std::optional<Cable> choose_cable(const CableDemand& d, const CableSets& sets) {
    const auto most_runs = sets.ampacity.value("runs.most", Unit::One);
    const std::vector<double> sizes = cable_sizes(d.place, sets.ampacity);
    if (!most_runs || sizes.empty()) {
        return std::nullopt;
    }
    const double hot_C = d.place.insulation == "pvc" ? 70.0 : 90.0;
    double not_enough_mm2 = 0.0;
    for (int runs = 1; runs <= static_cast<int>(*most_runs); ++runs) {
        for (const double size : sizes) {
            const Cable cable{size, runs};
            const auto carries_A = cable_carries_A(cable, d.place, d.uneven_percent, sets.ampacity);
            const auto drop = drop_V({d.place.metal, size, runs, d.length_m, d.current_A, hot_C},
                                     d.power_factor, sets.conductors);
            const auto takes_kA =
                withstand_kA(d.place.metal, d.place.insulation, size, d.clearing_s, sets.short_circuit);
            if (runs * size >= not_enough_mm2 && carries_A && *carries_A >= d.current_A && drop &&
                *drop <= d.drop_percent / 100.0 * d.lv_V && takes_kA && *takes_kA >= d.fault_kA) {
                return cable;
            }
        }
        not_enough_mm2 = runs * sizes.back();
    }
    return std::nullopt;
}

} // namespace crossarm::rules
