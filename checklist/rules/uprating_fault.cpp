#include "checklist/rules/uprating_fault.hpp"

#include "checklist/rules/uprating_check.hpp"

#include <cmath>
#include <numbers>

namespace crossarm::rules {

using model::Unit;

std::optional<double> lv_fault_kA(const FaultFacts& f) {
    if (!within(f.rating_kVA, 1.0, 10'000.0) || !within(f.lv_V, 100.0, 1000.0) ||
        !within(f.impedance_percent, 0.5, 20.0) || !within(f.tolerance_percent, 0.0, 30.0) ||
        (f.network_MVA && !within(*f.network_MVA, 1.0, 100'000.0))) {
        return std::nullopt;
    }
    const double square = f.lv_V * f.lv_V;
    const double z_percent = f.impedance_percent * (1.0 - f.tolerance_percent / 100.0);
    const double transformer_ohm = z_percent / 100.0 * square / (f.rating_kVA * 1e3);
    const double network_ohm = f.network_MVA ? square / (*f.network_MVA * 1e6) : 0.0;
    return f.lv_V / (std::numbers::sqrt3 * (transformer_ohm + network_ohm)) / 1000.0;
}

std::optional<CorrectedImpedance> corrected_impedance(double rating_kVA, double voltage_V,
                                                      double impedance_percent, double load_loss_W,
                                                      double c) {
    if (!within(rating_kVA, 1.0, 10'000.0) || !within(voltage_V, 100.0, 1000.0) ||
        !within(impedance_percent, 0.5, 20.0) || !within(load_loss_W, 0.0, 500'000.0) ||
        !within(c, 1.0, 1.1)) {
        return std::nullopt;
    }
    const double r_percent = load_loss_W / (10.0 * rating_kVA);
    if (r_percent > impedance_percent) {
        return std::nullopt;
    }
    const double x_percent = std::sqrt(impedance_percent * impedance_percent - r_percent * r_percent);
    const double factor = 0.95 * c / (1.0 + 0.6 * x_percent / 100.0);
    const double mOhm_per_percent = 10.0 * voltage_V * voltage_V / (rating_kVA * 1e3);
    return CorrectedImpedance{factor * r_percent * mOhm_per_percent, factor * x_percent * mOhm_per_percent,
                              factor};
}

std::optional<double> lv_fault_60909_kA(double rating_kVA, double voltage_V, double impedance_percent,
                                        double load_loss_W, double c) {
    const auto z = corrected_impedance(rating_kVA, voltage_V, impedance_percent, load_loss_W, c);
    if (!z) {
        return std::nullopt;
    }
    return c * voltage_V / (std::numbers::sqrt3 * std::hypot(z->r_mOhm, z->x_mOhm));
}

std::optional<double> usual_impedance_percent(double rating_kVA, const model::LimitSet& set) {
    const model::LimitTable* table = set.table("impedance");
    const model::LimitRow* row = table != nullptr && within(rating_kVA, 1.0, 10'000.0)
                                     ? row_up_to(*table, rating_kVA, Unit::KilovoltAmpere)
                                     : nullptr;
    return row == nullptr ? std::nullopt : cell(*table, *row, "impedance", Unit::Percent);
}

std::optional<double> worst_fault_kA(double rating_kVA, double lv_V, std::optional<double> impedance_percent,
                                     std::optional<double> network_MVA, const model::LimitSet& set) {
    const auto tolerance = set.value("impedance.tolerance", Unit::Percent);
    const auto z = impedance_percent ? impedance_percent : usual_impedance_percent(rating_kVA, set);
    if (!tolerance || !z) {
        return std::nullopt;
    }
    return lv_fault_kA({rating_kVA, lv_V, *z, *tolerance, network_MVA});
}

Outcome fault_check(const FaultReadings& r, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "uprating.fault";
    Needs needs(set);
    const double tolerance = needs.take("impedance.tolerance", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const auto z = r.impedance_percent ? r.impedance_percent : usual_impedance_percent(r.rating_kVA, set);
    const auto worst = worst_fault_kA(r.rating_kVA, r.lv_V, z, r.network_MVA, set);
    const auto named = z ? lv_fault_kA({r.rating_kVA, r.lv_V, *z, 0.0, r.network_MVA}) : std::nullopt;
    if (!worst || !named) {
        return refuse(kSubject, say("no.uprating.fault"));
    }
    const auto before =
        worst_fault_kA(r.present_kVA, r.lv_V, r.present_impedance_percent, r.network_MVA, set);
    const Places places = {{"fault", kilo_ampere(*worst)},
                           {"before", kilo_ampere(before.value_or(0.0))},
                           {"impedance", percent(*z)}};
    model::Verdict v =
        passes(kSubject, set.source_of("impedance.tolerance"),
               say(before ? "because.uprating.fault" : "because.uprating.fault_alone", places));
    v.workings = {{"work.uprating.impedance_new", percent(*z), ""},
                  {"work.uprating.tolerance", percent(tolerance), ""}};
    if (r.network_MVA) {
        v.workings.push_back({"work.uprating.network", {*r.network_MVA, Unit::MegavoltAmpere}, ""});
    }
    v.workings.push_back(
        {"work.uprating.fault_named", kilo_ampere(*named), "U / (√3 × (Z U² / (100 S) + U² / network))"});
    v.workings.push_back(
        {"work.uprating.fault", kilo_ampere(*worst), "with the tolerance off the impedance"});
    if (before) {
        v.workings.push_back({"work.uprating.fault_before", kilo_ampere(*before), ""});
    }
    if (!r.impedance_percent) {
        marginal(v, say("because.uprating.fault_usual", places), say("action.uprating.ask_impedance"));
    }
    if (!r.network_MVA) {
        v.cautions.push_back(say("caution.uprating.infinite"));
    }
    v.cautions.push_back(say("caution.uprating.method"));
    return v;
}

} // namespace crossarm::rules
