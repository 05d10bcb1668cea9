#include "checklist/rules/uprating_study.hpp"

#include "checklist/rules/uprating_check.hpp"
#include "checklist/rules/uprating_drop.hpp"
#include "checklist/rules/uprating_earth.hpp"
#include "checklist/rules/uprating_fault.hpp"
#include "checklist/rules/uprating_support.hpp"
#include "checklist/rules/uprating_withstand.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

namespace crossarm::rules {
namespace {

using model::Grade;
using model::LimitSet;
using model::Unit;

constexpr double kUsualPowerFactor = 0.9;
constexpr double kUsualAir_C = 30.0;
constexpr double kUsualClearing_s = 1.0;

/// The library's sets for this study; an empty one where there is none, which every rule refuses.
class Sets {
public:
    explicit Sets(const model::LimitLibrary& library) : library_(library) {}
    [[nodiscard]] const LimitSet& of(std::string_view subject) const {
        const LimitSet* set = library_.for_subject(subject);
        return set != nullptr ? *set : empty_;
    }

private:
    const model::LimitLibrary& library_;
    LimitSet empty_;
};

std::optional<int> whole(std::optional<double> x) {
    return x && std::isfinite(*x) && std::abs(*x) < 1000.0 ? std::optional(static_cast<int>(*x))
                                                           : std::nullopt;
}

bool passed(const Outcome& outcome) {
    const auto* verdict = std::get_if<model::Verdict>(&outcome);
    return verdict != nullptr && verdict->grade <= Grade::Watch;
}

class Studying {
public:
    Studying(const StudyFacts& facts, const model::LimitLibrary& library) : f_(facts), sets_(library) {}

    Study study() {
        s_.structure = f_.at.id;
        load();
        if (s_.demand) {
            present();
            rating();
        }
        if (s_.proposal.rating_kVA) {
            fault();
            high_side();
            breakers();
            cable();
            earth();
            support();
            alternatives();
            s_.materials = materials(f_, s_.proposal);
        }
        return std::move(s_);
    }

private:
    void check(const char* name, Outcome outcome) { s_.checks.push_back({name, std::move(outcome)}); }

    void load() {
        DemandReadings r;
        r.samples = f_.samples;
        r.loads = f_.loads;
        r.lv_V = f_.at.plate.lv_V;
        r.growth_percent = growth();
        r.horizon_years = f_.horizon_years;
        r.power_factor = power_factor();
        s_.demand = demand(r);
        check("demand", demand_check(r, sets_.of("uprating.planning")));
    }

    void present() {
        const Demand& d = *s_.demand;
        day_ = d.day;
        if (day_.empty()) {
            day_ = usual_day();
        }
        const auto usual = thermal_facts(sets_.of("loading.thermal"));
        if (!usual || day_.empty()) {
            check("hot_spot", refuse("loading.hot_spot", say("no.loading.profile")));
            return;
        }
        thermal_ = *usual;
        ThermalFacts own = *usual;
        own.top_oil_rise_K = f_.at.plate.top_oil_rise_K.value_or(own.top_oil_rise_K);
        const double share = d.now_kVA / f_.at.plate.rating_kVA;
        s_.share_now_percent = 100.0 * share;
        DayLoad day;
        for (const double x : day_) {
            day.profile.push_back({1440.0 / static_cast<double>(day_.size()), share * x, air()});
        }
        Outcome outcome = day_load(day, own, sets_.of("loading.limits"));
        if (const auto* v = std::get_if<model::Verdict>(&outcome)) {
            for (const model::Working& w : v->workings) {
                if (w.name == "work.loading.hot_spot") {
                    s_.hot_spot_now_C = w.value.value;
                } else if (w.name == "work.loading.ageing") {
                    s_.ageing_now = w.value.value;
                }
            }
        }
        check("hot_spot", std::move(outcome));
    }

    void rating() {
        RatingFacts r;
        r.present_kVA = f_.at.plate.rating_kVA;
        r.now_kVA = s_.demand->now_kVA;
        r.horizon_kVA = s_.demand->horizon_kVA;
        r.hv_V = 1000.0 * f_.at.plate.hv_kV;
        r.lv_V = f_.at.plate.lv_V;
        r.day = day_;
        r.ambient_C = air();
        r.thermal = thermal_;
        for (const StockUnit& unit : f_.stock) {
            r.stock_kVA.push_back(unit.rating_kVA);
        }
        const RatingSets sets{sets_.of("uprating.ratings"), sets_.of("uprating.planning"),
                              sets_.of("loading.limits")};
        s_.rows = rating_rows(r, sets).value_or(std::vector<RatingRow>());
        check("rating", rating_check(r, sets));
        const RatingChoice choice = choose_rating(s_.rows);
        s_.proposal.rating_kVA =
            choice.chosen != nullptr ? std::optional(choice.chosen->rating_kVA) : std::nullopt;
        if (f_.wish.rating_kVA) {
            s_.proposal.rating_kVA = f_.wish.rating_kVA;
        }
        s_.proposal.uprate = s_.proposal.rating_kVA && *s_.proposal.rating_kVA > r.present_kVA;
        const auto planned = sets.planning.value("share.planned", Unit::Percent);
        if (planned) {
            s_.years_left = years_until(r.now_kVA, r.present_kVA * *planned / 100.0, growth());
        }
        const auto present_z = impedance_of(f_.at.plate.rating_kVA, f_.at.plate.impedance_percent);
        if (present_z && s_.demand->horizon_kVA > f_.at.plate.rating_kVA) {
            const double second = second_unit_kVA(r, s_.rows, *present_z, *present_z);
            const auto second_z = impedance_of(second, std::nullopt).value_or(*present_z);
            second_kVA_ = second_unit_kVA(r, s_.rows, *present_z, second_z);
            check("second", second_unit_check(r, sets, *present_z, second_z));
        }
    }

    void fault() {
        FaultReadings r;
        r.rating_kVA = *s_.proposal.rating_kVA;
        r.lv_V = f_.at.plate.lv_V;
        const StockUnit* unit = in_stock(r.rating_kVA);
        r.impedance_percent = unit != nullptr ? unit->impedance_percent : std::nullopt;
        if (!s_.proposal.uprate) {
            r.impedance_percent = f_.at.plate.impedance_percent;
        }
        r.network_MVA = f_.site.network_MVA;
        r.present_kVA = f_.at.plate.rating_kVA;
        r.present_impedance_percent = f_.at.plate.impedance_percent;
        const LimitSet& set = sets_.of("uprating.impedance");
        s_.proposal.fault_kA = worst_fault_kA(r.rating_kVA, r.lv_V, r.impedance_percent, r.network_MVA, set);
        check("fault", fault_check(r, set));
        row_A_ = full_load_A(r.rating_kVA, r.lv_V).value_or(0.0);
    }

    void high_side() {
        FuseReadings r;
        r.rating_kVA = *s_.proposal.rating_kVA;
        r.hv_kV = f_.at.plate.hv_kV;
        r.fitted = f_.at.plate.hv_fuse;
        if (f_.site.network_MVA && r.hv_kV > 0.0) {
            r.fault_kA = *f_.site.network_MVA / (std::numbers::sqrt3 * r.hv_kV);
        }
        const LimitSet& table = sets_.of("uprating.hv_fuse");
        const LimitSet& window = sets_.of("uprating.hv_fuse_window");
        Outcome outcome = fuse_check(r, table, window);
        if (std::holds_alternative<model::Verdict>(outcome)) {
            s_.proposal.link = table_link(r, table);
            s_.proposal.link_choice = window_links(r.rating_kVA, r.hv_kV, window);
        }
        check("hv_fuse", std::move(outcome));
        if (f_.site.hv_lead_mm2 && r.fault_kA) {
            CablePlace copper;
            copper.metal = Metal::Copper;
            Outcome lead = withstand_check({*f_.site.hv_lead_mm2, 1}, copper, *r.fault_kA,
                                           f_.site.hv_clearing_s.value_or(kUsualClearing_s),
                                           sets_.of("uprating.short_circuit"));
            check("hv_lead", std::move(lead));
        }
    }

    void breakers() {
        const LimitSet& set = sets_.of("uprating.breaker");
        if (!s_.proposal.fault_kA) {
            check("breaker.proposed", refuse("uprating.breaker", say("no.uprating.breaker")));
            return;
        }
        const BreakerNeeds needs{row_A_, *s_.proposal.fault_kA, 0};
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

    void cable() {
        const LimitSet& table = sets_.of("uprating.cable");
        const auto place = cable_place();
        if (!place || !s_.proposal.fault_kA) {
            check("cable.proposed", refuse("uprating.cable", say("no.uprating.cable_place")));
            return;
        }
        if (f_.site.cable_mm2) {
            const Cable fitted{*f_.site.cable_mm2, whole(f_.site.cable_runs).value_or(1)};
            Outcome outcome = cable_check(fitted, *place, row_A_, uneven(), table);
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
                  cable_check(cable, *place, row_A_, uneven(), table));
        }
        protected_cable(cable, *place);
        check("neutral", neutral_check(cable, *place, row_A_, neutral_at_horizon(), uneven(), table));
        check("short_circuit", heat_of(cable, *place));
        drop(cable, *place);
        check("lugs", lugs_check(cable, place->metal, Metal::Copper, sets_.of("joint.crimp")));
        s_.proposal.lugs = choose_lugs(cable, place->metal, Metal::Copper, sets_.of("joint.crimp"));
        if (s_.proposal.keep_cable && s_.proposal.lugs) {
            s_.proposal.lugs->on_breakers = 0;
        }
        conditions(cable, *place);
    }

    std::optional<Cable> chosen_cable(const CablePlace& place) const {
        CableDemand d;
        d.place = place;
        d.current_A = row_A_;
        d.uneven_percent = uneven();
        d.length_m = f_.site.cable_m.value_or(0.0);
        d.power_factor = power_factor();
        d.lv_V = f_.at.plate.lv_V;
        d.fault_kA = *s_.proposal.fault_kA;
        d.clearing_s = f_.site.lv_clearing_s.value_or(kUsualClearing_s);
        return choose_cable(d, {sets_.of("uprating.cable"), sets_.of("uprating.conductor"),
                                sets_.of("uprating.short_circuit")});
    }

    /// Each breaker against the runs behind it: In at most what they carry.
    void protected_cable(const Cable& cable, const CablePlace& place) {
        const auto carries_A = cable_carries_A(cable, place, uneven(), sets_.of("uprating.cable"));
        if (!carries_A || !s_.proposal.breakers) {
            return;
        }
        const Breakers& b = *s_.proposal.breakers;
        const double behind_A = *carries_A / b.count;
        const Places places = {{"rating", ampere(b.rating_A)}, {"carries", ampere(behind_A)}};
        model::Verdict v =
            passes("uprating.overload", sets_.of("uprating.breaker").source_of("parallel.uneven"),
                   say("because.uprating.overload", places));
        v.workings = {
            {"work.uprating.breaker_rating", ampere(b.rating_A), "In"},
            {"work.uprating.cable_carries", ampere(behind_A), "of the runs behind one breaker, Iz"}};
        if (b.rating_A > behind_A) {
            marginal(v, say("because.uprating.overload_set", places),
                     say("action.uprating.set_breaker", places));
        }
        check("overload", v);
    }

    Outcome heat_of(const Cable& cable, const CablePlace& place) const {
        return withstand_check(cable, place, *s_.proposal.fault_kA,
                               f_.site.lv_clearing_s.value_or(kUsualClearing_s),
                               sets_.of("uprating.short_circuit"));
    }

    void drop(const Cable& cable, const CablePlace& place) {
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

    void conditions(const Cable& cable, const CablePlace& place) {
        const LimitSet& table = sets_.of("uprating.cable");
        const auto look = [&](Laid laid, double around_C, double soil) {
            CablePlace other = place;
            other.laid = laid;
            other.air_C = around_C;
            other.ground_C = around_C;
            other.soil_Km_W = soil > 0.0 ? std::optional(soil) : std::nullopt;
            Condition c{laid, around_C, soil, cable_carries_A(cable, other, uneven(), table), false};
            c.enough = c.carries_A && *c.carries_A >= row_A_;
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

    void earth() {
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

    void support() {
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

    void alternatives() {
        const RatingChoice choice = choose_rating(s_.rows);
        single("present", f_.at.plate.rating_kVA, true);
        for (const auto& [kind, row] :
             {std::pair("smaller", choice.smaller), std::pair("chosen", choice.chosen),
              std::pair("larger", choice.larger)}) {
            if (row != nullptr && row->rating_kVA != f_.at.plate.rating_kVA) {
                single(kind, row->rating_kVA, false);
            }
        }
        if (second_kVA_ > 0.0) {
            pair_of_units();
        }
    }

    void single(const char* kind, double rating, bool is_present) {
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
        a.cost = losses ? life_cost(life_of(*losses, 1.0, is_present ? 0.0 : -1.0, a.price)) : std::nullopt;
        s_.alternatives.push_back(a);
    }

    void pair_of_units() {
        Alternative a;
        a.kind = "second";
        a.rating_kVA = second_kVA_;
        const auto z1 = impedance_of(f_.at.plate.rating_kVA, f_.at.plate.impedance_percent);
        const auto z2 = impedance_of(second_kVA_, std::nullopt);
        const Partner first{f_.at.plate.rating_kVA, z1.value_or(0.0)};
        const Partner second{second_kVA_, z2 ? *z2 : z1.value_or(0.0)};
        const auto together = parallel_kVA(first, second);
        const auto share = parallel_share(first, second);
        if (!together || !share) {
            return;
        }
        a.serves = *together >= s_.demand->horizon_kVA;
        a.headroom_now_kVA = *together - s_.demand->now_kVA;
        a.headroom_horizon_kVA = *together - s_.demand->horizon_kVA;
        const StockUnit* unit = in_stock(second_kVA_);
        a.price = unit != nullptr ? unit->price : std::nullopt;
        bool usual_1 = false;
        bool usual_2 = false;
        const auto losses_1 = losses_of(f_.at.plate.rating_kVA, true, usual_1);
        const auto losses_2 = losses_of(second_kVA_, false, usual_2);
        a.losses_usual = usual_1 || usual_2;
        if (losses_1 && losses_2) {
            const auto c1 = life_cost(life_of(*losses_1, *share, 0.0, std::nullopt));
            const auto c2 = life_cost(life_of(*losses_2, 1.0 - *share, -1.0, a.price));
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

    /// `own_price` below 0: the price given, which may be unknown.
    LifeFacts life_of(const LossFacts& losses, double share, double own_price,
                      std::optional<double> price) const {
        LifeFacts l;
        l.losses = losses;
        l.now_kVA = share * s_.demand->now_kVA;
        l.applied_kVA = share * s_.demand->applied_kVA;
        l.growth_percent = growth();
        l.growth_years = f_.horizon_years;
        l.life_years = f_.prices.life_years;
        l.loss_load_factor = s_.demand->loss_load_factor.value_or(day_squares());
        l.price = own_price < 0.0 ? price : std::optional(own_price);
        l.energy_price = f_.prices.energy;
        l.interest_percent = f_.prices.interest_percent;
        return l;
    }

    double day_squares() const {
        double sum = 0.0;
        for (const double x : day_) {
            sum += x * x;
        }
        return day_.empty() ? 0.0 : sum / static_cast<double>(day_.size());
    }

    std::vector<double> usual_day() const {
        std::vector<double> day;
        const LimitSet& set = sets_.of("uprating.day_shape");
        if (const model::LimitTable* table = set.table("hours")) {
            for (const model::LimitRow& row : table->rows) {
                day.push_back(cell(*table, row, "share", Unit::One).value_or(0.0));
            }
        }
        return day;
    }

    const StockUnit* in_stock(double rating) const {
        for (const StockUnit& unit : f_.stock) {
            if (unit.rating_kVA == rating) {
                return &unit;
            }
        }
        return nullptr;
    }

    std::optional<double> impedance_of(double rating, std::optional<double> own) const {
        const StockUnit* unit = in_stock(rating);
        if (!own && unit != nullptr) {
            own = unit->impedance_percent;
        }
        return own ? own : usual_impedance_percent(rating, sets_.of("uprating.impedance"));
    }

    std::optional<LossFacts> losses_of(double rating, bool is_present, bool& usual) const {
        const StockUnit* unit = in_stock(rating);
        const auto z = impedance_of(rating, is_present ? f_.at.plate.impedance_percent : std::nullopt);
        const auto no_load = is_present ? f_.at.plate.no_load_loss_W
                             : unit     ? unit->no_load_loss_W
                                        : std::nullopt;
        const auto load = is_present ? f_.at.plate.load_loss_W : unit ? unit->load_loss_W : std::nullopt;
        usual = !no_load || !load;
        if (!usual) {
            return LossFacts{rating, *no_load, *load, z.value_or(0.0)};
        }
        return usual_losses(rating, z.value_or(0.0), sets_.of("uprating.losses"));
    }

    std::optional<CablePlace> cable_place() const {
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

    std::optional<Breakers> fitted_breakers() const {
        if (!f_.site.breaker_A) {
            return std::nullopt;
        }
        return Breakers{whole(f_.site.breakers).value_or(1), *f_.site.breaker_A,
                        f_.site.breaker_kA.value_or(0.0)};
    }

    double neutral_at_horizon() const {
        const Demand& d = *s_.demand;
        return d.now_kVA > 0.0 ? d.neutral_A * d.horizon_kVA / d.now_kVA : 0.0;
    }

    double uneven() const {
        return sets_.of("uprating.breaker").value("parallel.uneven", Unit::Percent).value_or(0.0);
    }
    double growth() const { return f_.site.growth_percent.value_or(0.0); }
    double power_factor() const { return f_.site.power_factor.value_or(kUsualPowerFactor); }
    double air() const { return f_.site.air_C.value_or(kUsualAir_C); }

    const StudyFacts& f_;
    Sets sets_;
    Study s_;
    std::vector<double> day_;
    ThermalFacts thermal_;
    double row_A_ = 0.0;
    double second_kVA_ = 0.0;
};

} // namespace

int Study::count(Grade grade) const {
    int n = 0;
    for (const StudyCheck& check : checks) {
        if (const auto* v = std::get_if<model::Verdict>(&check.outcome)) {
            n += v->grade == grade || (grade == Grade::Repair && v->grade == Grade::Danger) ? 1 : 0;
        }
    }
    return n;
}

int Study::without_verdict() const {
    int n = 0;
    for (const StudyCheck& check : checks) {
        n += std::holds_alternative<model::NoVerdict>(check.outcome) ? 1 : 0;
    }
    return n;
}

Study uprating_study(const StudyFacts& facts, const model::LimitLibrary& library) {
    return Studying(facts, library).study();
}

Urgency urgency_of(const Study& study, const model::Structure& at) {
    return {study.share_now_percent.has_value(),
            study.years_left,
            study.share_now_percent.value_or(0.0),
            at.critical_customers,
            at.customers,
            at.id};
}

bool more_urgent(const Urgency& a, const Urgency& b) {
    static constexpr double kNever = 1e9;
    const auto key = [](const Urgency& u) {
        return std::tuple(!u.known, u.years_left.value_or(kNever), -u.share_percent, -u.critical_customers,
                          -u.customers, u.structure);
    };
    return key(a) < key(b);
}

} // namespace crossarm::rules
