// The rest of the study: earth, support, and what the alternatives cost.
#include "checklist/rules/uprating_check.hpp"
#include "checklist/rules/uprating_earth.hpp"
#include "checklist/rules/uprating_fault.hpp"
#include "checklist/rules/uprating_studying.hpp"
#include "checklist/rules/uprating_support.hpp"

namespace crossarm::rules {

using model::LimitSet;
using model::Unit;

void Studying::earth() {
    const LimitSet& set = sets_.of("uprating.earthing");
    if (s_.proposal.fault_kA) {
        EarthConductorReadings r;
        r.metal = f_.site.earth_metal.empty() ? "copper" : f_.site.earth_metal;
        r.fault_kA = *s_.proposal.fault_kA;
        r.clearing_s = f_.site.lv_clearing_s.value_or(kUsualClearing_s);
        r.fitted_mm2 = f_.site.earth_mm2;
        Outcome outcome = earth_conductor_check(r, set);
        s_.proposal.earth_mm2 = earth_conductor_mm2(r, set);
        s_.proposal.keep_earth = r.fitted_mm2 && passed(outcome);
        if (s_.proposal.keep_earth) {
            s_.proposal.earth_mm2 = r.fitted_mm2;
        }
        check("earth_conductor", std::move(outcome));
    }
    ElectrodeReadings e;
    e.measured_ohm = f_.site.electrode_ohm;
    e.rods = whole(f_.site.electrode_rods);
    e.earth_fault_A = f_.site.hv_earth_fault_A;
    e.clearing_s = f_.site.hv_clearing_s.value_or(kUsualClearing_s);
    const ElectrodeSets sets{sets_.of("earth.electrode"), sets_.of("earth.touch"), set,
                             sets_.of("earth.rods")};
    Outcome outcome = electrode_check(e, sets);
    if (const auto* v = std::get_if<model::Verdict>(&outcome)) {
        for (const model::Working& w : v->workings) {
            if (w.name == "work.uprating.rods" && e.rods) {
                s_.proposal.rods_to_add = static_cast<int>(w.value.value) - *e.rods;
            }
        }
    }
    check("electrode", std::move(outcome));
}

void Studying::support() {
    const StockUnit* unit = in_stock(*s_.proposal.rating_kVA);
    MassReadings m;
    m.rating_kVA = *s_.proposal.rating_kVA;
    m.support = f_.at.support;
    m.mass_kg = unit != nullptr ? unit->mass_kg : std::nullopt;
    if (!s_.proposal.uprate && !m.mass_kg) {
        m.mass_kg = f_.at.plate.mass_kg;
    }
    m.limit_kg = f_.site.mass_limit_kg;
    m.other_kg = f_.site.mass_other_kg.value_or(0.0);
    check("mass", mass_check(m, sets_.of("uprating.support")));
    AirReadings a;
    a.hv_kV = f_.at.plate.hv_kV;
    a.impulse_kV = f_.site.impulse_kV.value_or(0.0);
    a.spacing_m = f_.site.air_spacing_m;
    a.height_m = f_.site.live_height_m;
    check("clearance", air_check(a, sets_.of("uprating.clearance")));
}

void Studying::alternatives() {
    const RatingChoice choice = choose_rating(s_.rows);
    single("present", f_.at.plate.rating_kVA, true);
    for (const auto& [kind, row] : {std::pair("smaller", choice.smaller), std::pair("chosen", choice.chosen),
                                    std::pair("larger", choice.larger)}) {
        if (row != nullptr && row->rating_kVA != f_.at.plate.rating_kVA) {
            single(kind, row->rating_kVA, false);
        }
    }
    if (second_kva_ > 0.0) {
        pair_of_units();
    }
}

void Studying::single(const char* kind, double rating, bool is_present) {
    Alternative a;
    a.kind = kind;
    a.rating_kVA = rating;
    for (const RatingRow& row : s_.rows) {
        if (row.rating_kVA == rating) {
            a.serves = row.serves;
        }
    }
    const double planned =
        sets_.of("uprating.planning").value("share.planned", Unit::Percent).value_or(100.0) / 100.0;
    a.headroom_now_kVA = rating * planned - s_.demand->now_kVA;
    a.headroom_horizon_kVA = rating * planned - s_.demand->horizon_kVA;
    const StockUnit* unit = is_present ? nullptr : in_stock(rating);
    a.price = unit != nullptr ? unit->price : std::nullopt;
    const auto losses = losses_of(rating, is_present, a.losses_usual);
    a.cost =
        losses ? life_cost(life_of(*losses, 1.0, is_present ? std::optional(0.0) : a.price)) : std::nullopt;
    s_.alternatives.push_back(a);
}

void Studying::pair_of_units() {
    Alternative a;
    a.kind = "second";
    a.rating_kVA = second_kva_;
    const auto z1 = impedance_of(f_.at.plate.rating_kVA, f_.at.plate.impedance_percent);
    const auto z2 = impedance_of(second_kva_, std::nullopt);
    const Partner first{f_.at.plate.rating_kVA, z1.value_or(0.0)};
    const Partner second{second_kva_, z2 ? *z2 : z1.value_or(0.0)};
    const auto together = parallel_kVA(first, second);
    const auto share = parallel_share(first, second);
    if (!together || !share) {
        return;
    }
    a.serves = *together >= s_.demand->horizon_kVA;
    a.headroom_now_kVA = *together - s_.demand->now_kVA;
    a.headroom_horizon_kVA = *together - s_.demand->horizon_kVA;
    const StockUnit* unit = in_stock(second_kva_);
    a.price = unit != nullptr ? unit->price : std::nullopt;
    bool usual_1 = false;
    bool usual_2 = false;
    const auto losses_1 = losses_of(f_.at.plate.rating_kVA, true, usual_1);
    const auto losses_2 = losses_of(second_kva_, false, usual_2);
    a.losses_usual = usual_1 || usual_2;
    if (losses_1 && losses_2) {
        const auto c1 = life_cost(life_of(*losses_1, *share, std::nullopt));
        const auto c2 = life_cost(life_of(*losses_2, 1.0 - *share, a.price));
        if (c1 && c2) {
            LifeCost sum = *c2;
            sum.first_year_kWh += c1->first_year_kWh;
            sum.all_kWh += c1->all_kWh;
            if (sum.energy_now && c1->energy_now) {
                *sum.energy_now += *c1->energy_now;
                sum.all_now = sum.all_now ? std::optional(*sum.all_now + *c1->energy_now) : std::nullopt;
            }
            a.cost = sum;
        }
    }
    s_.alternatives.push_back(a);
}

LifeFacts Studying::life_of(const LossFacts& losses, double share, std::optional<double> price) const {
    LifeFacts l;
    l.losses = losses;
    l.now_kVA = share * s_.demand->now_kVA;
    l.applied_kVA = share * s_.demand->applied_kVA;
    l.growth_percent = growth();
    l.growth_years = f_.horizon_years;
    l.life_years = f_.prices.life_years;
    l.loss_load_factor = s_.demand->loss_load_factor.value_or(day_squares());
    l.price = price;
    l.energy_price = f_.prices.energy;
    l.interest_percent = f_.prices.interest_percent;
    return l;
}

double Studying::day_squares() const {
    double sum = 0.0;
    for (const double x : day_) {
        sum += x * x;
    }
    return day_.empty() ? 0.0 : sum / static_cast<double>(day_.size());
}

std::optional<LossFacts> Studying::losses_of(double rating, bool is_present, bool& usual) const {
    const StockUnit* unit = in_stock(rating);
    const auto z = impedance_of(rating, is_present ? f_.at.plate.impedance_percent : std::nullopt);
    const auto no_load = is_present ? f_.at.plate.no_load_loss_W : unit ? unit->no_load_loss_W : std::nullopt;
    const auto load = is_present ? f_.at.plate.load_loss_W : unit ? unit->load_loss_W : std::nullopt;
    usual = !no_load || !load;
    if (!usual) {
        return LossFacts{rating, *no_load, *load, z.value_or(0.0)};
    }
    return usual_losses(rating, z.value_or(0.0), sets_.of("uprating.losses"));
}

} // namespace crossarm::rules
