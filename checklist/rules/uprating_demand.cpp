#include "checklist/rules/uprating_demand.hpp"

#include "checklist/rules/loading.hpp"
#include "checklist/rules/uprating_check.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace crossarm::rules {
namespace {

using model::Unit;

constexpr double kMostAmpere = 20'000.0;
constexpr std::size_t kWeekOfHours = 168;

double highest(const LoadSample& s) {
    return *std::max_element(s.phase_A.begin(), s.phase_A.end());
}

double sum(const LoadSample& s) {
    return s.phase_A[0] + s.phase_A[1] + s.phase_A[2];
}

bool possible(const LoadSample& s) {
    return std::all_of(s.phase_A.begin(), s.phase_A.end(),
                       [](double x) { return within(x, 0.0, kMostAmpere); }) &&
           (!s.neutral_A || within(*s.neutral_A, 0.0, kMostAmpere));
}

bool possible(const BilledLoad& l) {
    return within(l.connected_kVA, 1e-3, 10'000.0) && within(l.demand_factor, 1e-3, 1.0) &&
           within(l.diversity, 1.0, 20.0);
}

bool possible(const DemandReadings& r) {
    return within(r.lv_V, 100.0, 1000.0) && within(r.growth_percent, -10.0, 30.0) && r.horizon_years >= 0 &&
           r.horizon_years <= 40 && within(r.power_factor, 0.01, 1.0) &&
           std::all_of(r.samples.begin(), r.samples.end(), [](const auto& s) { return possible(s); }) &&
           std::all_of(r.loads.begin(), r.loads.end(), [](const auto& l) { return possible(l); });
}

double after_diversity_kVA(const std::vector<BilledLoad>& loads, bool applied) {
    double kVA = 0.0;
    for (const BilledLoad& l : loads) {
        kVA += l.applied == applied ? l.connected_kVA * l.demand_factor / l.diversity : 0.0;
    }
    return kVA;
}

std::vector<double> day_of_peak(const std::vector<LoadSample>& samples, const LoadSample& peak) {
    std::vector<double> day;
    const model::Date on = model::day_of(peak.at);
    for (const LoadSample& s : samples) {
        if (model::day_of(s.at) == on) {
            day.push_back(highest(s) / highest(peak));
        }
    }
    return day.size() == 24 ? day : std::vector<double>();
}

void take_history(Demand& d, const std::vector<LoadSample>& samples) {
    double neutral_A = 0.0;
    double total = 0.0;
    double squares = 0.0;
    double most = 0.0;
    for (const LoadSample& s : samples) {
        neutral_A = std::max(neutral_A, s.neutral_A.value_or(0.0));
        total += sum(s);
        squares += sum(s) * sum(s);
        most = std::max(most, sum(s));
    }
    if (neutral_A > 0.0) {
        d.neutral_A = neutral_A;
    }
    if (samples.size() >= kWeekOfHours) {
        const auto n = static_cast<double>(samples.size());
        d.load_factor = total / (n * most);
        d.loss_load_factor = squares / (n * most * most);
    }
}

} // namespace

std::optional<Demand> demand(const DemandReadings& r) {
    if (!possible(r)) {
        return std::nullopt;
    }
    Demand d;
    d.connected_kVA = after_diversity_kVA(r.loads, false);
    d.applied_kVA = after_diversity_kVA(r.loads, true);
    const auto at = std::max_element(r.samples.begin(), r.samples.end(),
                                     [](const auto& a, const auto& b) { return highest(a) < highest(b); });
    if (at != r.samples.end() && highest(*at) > 0.0) {
        const double kVA_per_A = std::numbers::sqrt3 * r.lv_V / 1000.0;
        d.recorded = true;
        d.peak = *at;
        d.now_kVA = kVA_per_A * highest(*at);
        d.total_kVA = kVA_per_A * sum(*at) / 3.0;
        d.unbalance_percent = unbalance_percent(at->phase_A).value_or(0.0);
        d.neutral_A = neutral_equal_angles_A(at->phase_A).value_or(0.0);
        take_history(d, r.samples);
        d.day = day_of_peak(r.samples, *at);
    } else if (d.connected_kVA > 0.0) {
        d.now_kVA = d.connected_kVA;
        d.total_kVA = d.connected_kVA;
    } else {
        return std::nullopt;
    }
    d.horizon_kVA = d.now_kVA * std::pow(1.0 + r.growth_percent / 100.0, r.horizon_years) + d.applied_kVA;
    d.horizon_kW = d.horizon_kVA * r.power_factor;
    return d;
}

std::optional<double> grown(double peak, double growth_percent, double years) {
    if (!within(peak, 0.0, 1e6) || !within(growth_percent, -10.0, 30.0) || !within(years, 0.0, 40.0)) {
        return std::nullopt;
    }
    return peak * std::pow(1.0 + growth_percent / 100.0, years);
}

std::optional<double> years_until(double demand, double capacity, double growth_percent) {
    if (!within(demand, 1e-6, 1e6) || !within(capacity, 1e-6, 1e6) || !within(growth_percent, -10.0, 30.0)) {
        return std::nullopt;
    }
    if (demand >= capacity) {
        return 0.0;
    }
    if (growth_percent <= 0.0) {
        return std::nullopt;
    }
    return std::log(capacity / demand) / std::log1p(growth_percent / 100.0);
}

Outcome demand_check(const DemandReadings& r, const model::LimitSet& planning) {
    constexpr std::string_view kSubject = "uprating.demand";
    Needs needs(planning);
    const double unbalanced = needs.take("unbalance.watch_above", Unit::Percent);
    const double connected = needs.take("connected.watch_above", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const auto d = demand(r);
    if (!d) {
        return refuse(kSubject, say("no.uprating.demand"));
    }
    const Places places = {{"now", kilo_volt_ampere(d->now_kVA)},
                           {"horizon", kilo_volt_ampere(d->horizon_kVA)},
                           {"years", model::Quantity{static_cast<double>(r.horizon_years), Unit::Year}},
                           {"unbalance", percent(d->unbalance_percent)},
                           {"connected", kilo_volt_ampere(d->connected_kVA)}};
    model::Verdict v =
        passes(kSubject, planning.source_of("unbalance.watch_above"), say("because.uprating.demand", places));
    if (d->recorded) {
        v.workings = {{"work.uprating.phase_a", ampere(d->peak.phase_A[0]), model::to_text(d->peak.at)},
                      {"work.uprating.phase_b", ampere(d->peak.phase_A[1]), ""},
                      {"work.uprating.phase_c", ampere(d->peak.phase_A[2]), ""},
                      {"work.uprating.neutral", ampere(d->neutral_A), ""},
                      {"work.uprating.unbalance", percent(d->unbalance_percent), ""},
                      {"work.uprating.total", kilo_volt_ampere(d->total_kVA), "√3 × U × (A + B + C) / 3"}};
    }
    v.workings.push_back({"work.uprating.now", kilo_volt_ampere(d->now_kVA),
                          d->recorded ? "√3 × U × highest phase" : "connected × demand factor / diversity"});
    if (d->connected_kVA > 0.0 && d->recorded) {
        v.workings.push_back({"work.uprating.connected", kilo_volt_ampere(d->connected_kVA),
                              "connected × demand factor / diversity"});
    }
    v.workings.push_back({"work.uprating.applied", kilo_volt_ampere(d->applied_kVA),
                          "applied for × demand factor / diversity"});
    v.workings.push_back({"work.uprating.horizon", kilo_volt_ampere(d->horizon_kVA),
                          "now × (1 + " + model::number_for_people(r.growth_percent) + " / 100)^" +
                              model::number_for_people(r.horizon_years) + " + applied for"});
    v.workings.push_back(
        {"work.uprating.horizon_power", {d->horizon_kW, Unit::Kilowatt}, "horizon × power factor"});
    if (d->load_factor) {
        v.workings.push_back({"work.uprating.load_factor", count(*d->load_factor), "mean / peak"});
        v.workings.push_back({"work.uprating.loss_load_factor", count(*d->loss_load_factor),
                              "mean of squares / square of peak"});
    }
    if (!d->recorded) {
        marginal(v, say("because.uprating.demand_not_recorded", places), say("action.uprating.record_peak"));
    } else if (d->connected_kVA > d->now_kVA * connected / 100.0) {
        v.source = planning.source_of("connected.watch_above");
        marginal(v, say("because.uprating.demand_connected", places), say("action.uprating.record_peak"));
    } else if (d->unbalance_percent > unbalanced) {
        marginal(v, say("because.uprating.demand_unbalanced", places), say("action.uprating.balance"));
    }
    v.cautions.push_back(say("caution.uprating.demand"));
    return v;
}

} // namespace crossarm::rules
