// The study's low side: breakers and their grading, cable, drop, lugs.
#include "checklist/rules/uprating_check.hpp"
#include "checklist/rules/uprating_drop.hpp"
#include "checklist/rules/uprating_grading.hpp"
#include "checklist/rules/uprating_studying.hpp"
#include "checklist/rules/uprating_withstand.hpp"

#include <algorithm>

namespace crossarm::rules {

using model::LimitSet;
using model::Unit;

void Studying::breakers() {
    const LimitSet& set = sets_.of("uprating.breaker");
    if (!s_.proposal.fault_kA) {
        check("breaker.proposed", refuse("uprating.breaker", say("no.uprating.breaker")));
        return;
    }
    const BreakerNeeds needs{row_amps_, *s_.proposal.fault_kA, 0};
    if (const auto fitted = fitted_breakers()) {
        if (f_.site.breaker_kA) {
            Outcome outcome = breaker_check(*fitted, needs, set);
            s_.proposal.keep_breakers = passed(outcome) && !f_.wish.breakers;
            check("breaker.fitted", std::move(outcome));
        } else {
            check("breaker.fitted", refuse("uprating.breaker", say("no.uprating.breaker_icu")));
        }
        if (s_.proposal.keep_breakers) {
            s_.proposal.breakers = fitted;
            return;
        }
    }
    if (f_.wish.breakers) {
        Breakers wished = *f_.wish.breakers;
        const auto chosen = choose_breakers(needs, set);
        if (wished.icu_kA <= 0.0 && chosen) {
            wished.icu_kA = chosen->icu_kA;
        }
        s_.proposal.breakers = wished;
        check("breaker.asked", breaker_check(wished, needs, set));
        return;
    }
    s_.proposal.breakers = choose_breakers(needs, set);
    check("breaker.proposed", breaker_choice(needs, set));
}

void Studying::grading() {
    const Proposal& p = s_.proposal;
    if (!p.link || !p.breakers || !p.fault_kA) {
        check("grading", refuse("uprating.grading", say("no.uprating.grading_proposal")));
        return;
    }
    check("grading", grading_check({*p.link, f_.at.plate.hv_kV, f_.at.plate.lv_V, *p.fault_kA,
                                    f_.site.breaker_clearing_s},
                                   sets_.of("uprating.fuse_melting")));
}

void Studying::cable() {
    const LimitSet& table = sets_.of("uprating.cable");
    const auto place = cable_place();
    if (!place || !s_.proposal.fault_kA) {
        check("cable.proposed", refuse("uprating.cable", say("no.uprating.cable_place")));
        return;
    }
    if (f_.site.cable_mm2) {
        const Cable fitted{*f_.site.cable_mm2, whole(f_.site.cable_runs).value_or(1)};
        Outcome outcome = cable_check(fitted, *place, row_amps_, uneven(), table);
        const Outcome heat = heat_of(fitted, *place);
        s_.proposal.keep_cable = passed(outcome) && passed(heat) && !f_.wish.cable;
        check("cable.fitted", std::move(outcome));
        if (s_.proposal.keep_cable) {
            s_.proposal.cable = fitted;
        }
    }
    if (f_.wish.cable) {
        s_.proposal.cable = f_.wish.cable;
    } else if (!s_.proposal.keep_cable) {
        s_.proposal.cable = chosen_cable(*place);
    }
    if (!s_.proposal.cable) {
        check("cable.proposed", refuse("uprating.cable", say("no.uprating.cable_none")));
        return;
    }
    const Cable& cable = *s_.proposal.cable;
    if (!s_.proposal.keep_cable) {
        check(f_.wish.cable ? "cable.asked" : "cable.proposed",
              cable_check(cable, *place, row_amps_, uneven(), table));
    }
    protected_cable(cable, *place);
    check("neutral", neutral_check(cable, *place, row_amps_, neutral_at_horizon(), uneven(), table));
    check("short_circuit", heat_of(cable, *place));
    drop(cable, *place);
    check("lugs", lugs_check(cable, place->metal, Metal::Copper, sets_.of("joint.crimp")));
    s_.proposal.lugs = choose_lugs(cable, place->metal, Metal::Copper, sets_.of("joint.crimp"));
    if (s_.proposal.keep_cable && s_.proposal.lugs) {
        s_.proposal.lugs->on_breakers = 0;
    }
    conditions(cable, *place);
}

std::optional<Cable> Studying::chosen_cable(const CablePlace& place) const {
    CableDemand d;
    d.place = place;
    d.current_A = row_amps_;
    d.uneven_percent = uneven();
    d.length_m = f_.site.cable_m.value_or(0.0);
    d.power_factor = power_factor();
    d.lv_V = f_.at.plate.lv_V;
    d.fault_kA = *s_.proposal.fault_kA;
    d.clearing_s = f_.site.lv_clearing_s.value_or(kUsualClearing_s);
    return choose_cable(
        d, {sets_.of("uprating.cable"), sets_.of("uprating.conductor"), sets_.of("uprating.short_circuit")});
}

void Studying::protected_cable(const Cable& cable, const CablePlace& place) {
    const auto carries_A = cable_carries_A(cable, place, uneven(), sets_.of("uprating.cable"));
    if (!carries_A || !s_.proposal.breakers) {
        return;
    }
    const Breakers& b = *s_.proposal.breakers;
    const double behind_A = *carries_A / b.count;
    const Places places = {{"rating", ampere(b.rating_A)}, {"carries", ampere(behind_A)}};
    model::Verdict v = passes("uprating.overload", sets_.of("uprating.breaker").source_of("parallel.uneven"),
                              say("because.uprating.overload", places));
    v.workings = {{"work.uprating.breaker_rating", ampere(b.rating_A), "In"},
                  {"work.uprating.cable_carries", ampere(behind_A), "of the runs behind one breaker, Iz"}};
    if (b.rating_A > behind_A) {
        marginal(v, say("because.uprating.overload_set", places), say("action.uprating.set_breaker", places));
    }
    check("overload", v);
}

Outcome Studying::heat_of(const Cable& cable, const CablePlace& place) const {
    return withstand_check(cable, place, *s_.proposal.fault_kA,
                           f_.site.lv_clearing_s.value_or(kUsualClearing_s),
                           sets_.of("uprating.short_circuit"));
}

void Studying::drop(const Cable& cable, const CablePlace& place) {
    DropReadings r;
    r.lv_V = f_.at.plate.lv_V;
    r.power_factor = power_factor();
    const double rating = *s_.proposal.rating_kVA;
    const double load_A =
        full_load_A(std::clamp(s_.demand->horizon_kVA, 1.0, 10'000.0), r.lv_V).value_or(0.0);
    r.share = std::min(3.0, s_.demand->horizon_kVA / rating);
    r.cable = {place.metal, cable.area_mm2,
               cable.runs,  f_.site.cable_m.value_or(0.0),
               load_A,      place.insulation == "pvc" ? 70.0 : 90.0};
    if (f_.site.main_mm2 && f_.site.main_m && f_.site.main_share_percent) {
        r.main = Stretch{f_.site.main_metal == "copper" ? Metal::Copper : Metal::Aluminium,
                         *f_.site.main_mm2,
                         1,
                         *f_.site.main_m,
                         load_A * *f_.site.main_share_percent / 100.0,
                         75.0};
    }
    bool usual = false;
    r.losses = losses_of(rating, !s_.proposal.uprate, usual);
    check("drop", drop_check(r, sets_.of("uprating.conductor"), sets_.of("uprating.drop"),
                             sets_.of("voltage.supply")));
}

void Studying::conditions(const Cable& cable, const CablePlace& place) {
    const LimitSet& table = sets_.of("uprating.cable");
    const auto look = [&](Laid laid, double around_C, double soil) {
        CablePlace other = place;
        other.laid = laid;
        other.air_C = around_C;
        other.ground_C = around_C;
        other.soil_Km_W = soil > 0.0 ? std::optional(soil) : std::nullopt;
        Condition c{laid, around_C, soil, cable_carries_A(cable, other, uneven(), table), false};
        c.enough = c.carries_A && *c.carries_A >= row_amps_;
        s_.conditions.push_back(c);
    };
    for (const Laid laid : {Laid::E, Laid::F, Laid::C}) {
        for (const double air : {30.0, 40.0, 50.0}) {
            look(laid, air, 0.0);
        }
    }
    for (const double ground : {20.0, 30.0, 35.0}) {
        look(Laid::D1, ground, 2.5);
        look(Laid::D1, ground, 1.0);
    }
}

std::optional<CablePlace> Studying::cable_place() const {
    const auto laid = laid_of(f_.site.cable_laid);
    if (!laid || f_.site.cable_metal.empty() || f_.site.cable_insulation.empty()) {
        return std::nullopt;
    }
    CablePlace p;
    p.metal = f_.site.cable_metal == "copper" ? Metal::Copper : Metal::Aluminium;
    p.insulation = f_.site.cable_insulation;
    p.laid = *laid;
    p.air_C = air();
    p.ground_C = f_.site.ground_C.value_or(p.ground_C);
    p.soil_Km_W = f_.site.soil_Km_W;
    p.circuits_beside = whole(f_.site.circuits_beside).value_or(0);
    p.third_harmonic_percent = f_.site.third_harmonic_percent.value_or(0.0);
    return p;
}

std::optional<Breakers> Studying::fitted_breakers() const {
    if (!f_.site.breaker_A) {
        return std::nullopt;
    }
    return Breakers{whole(f_.site.breakers).value_or(1), *f_.site.breaker_A,
                    f_.site.breaker_kA.value_or(0.0)};
}

double Studying::neutral_at_horizon() const {
    const Demand& d = *s_.demand;
    return d.now_kVA > 0.0 ? d.neutral_A * d.horizon_kVA / d.now_kVA : 0.0;
}

double Studying::uneven() const {
    return sets_.of("uprating.breaker").value("parallel.uneven", Unit::Percent).value_or(0.0);
}

} // namespace crossarm::rules
