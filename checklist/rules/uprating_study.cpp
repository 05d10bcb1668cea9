#include "checklist/rules/uprating_study.hpp"

#include "checklist/rules/uprating_check.hpp"
#include "checklist/rules/uprating_fault.hpp"
#include "checklist/rules/uprating_studying.hpp"
#include "checklist/rules/uprating_withstand.hpp"

#include <algorithm>
#include <numbers>
#include <tuple>

namespace crossarm::rules {

using model::Grade;
using model::LimitSet;
using model::Unit;

Study Studying::study() {
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
        grading();
        cable();
        earth();
        support();
        alternatives();
        s_.materials = materials(f_, s_.proposal);
    }
    return std::move(s_);
}

void Studying::load() {
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

void Studying::present() {
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
    s_.share_now_percent = 100.0 * d.now_kVA / f_.at.plate.rating_kVA;
    Outcome now = worst_day(own, d.now_kVA);
    if (const auto* v = std::get_if<model::Verdict>(&now)) {
        for (const model::Working& w : v->workings) {
            if (w.name == "work.loading.hot_spot") {
                s_.hot_spot_now_C = w.value.value;
            } else if (w.name == "work.loading.ageing") {
                s_.ageing_now = w.value.value;
            }
        }
    }
    check("hot_spot", std::move(now));
    check("hot_spot_horizon", worst_day(own, d.horizon_kVA));
}

Outcome Studying::worst_day(const ThermalFacts& own, double peak_kVA) const {
    DayLoad day;
    for (const double x : day_) {
        day.profile.push_back(
            {1440.0 / static_cast<double>(day_.size()), peak_kVA / f_.at.plate.rating_kVA * x, air()});
    }
    return day_load(day, own, sets_.of("loading.limits"));
}

void Studying::rating() {
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
    if (choice.chosen != nullptr) {
        // A smaller one might do, but nobody takes a transformer down for that.
        s_.proposal.rating_kVA = std::max(choice.chosen->rating_kVA, r.present_kVA);
    }
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
        second_kva_ = second_unit_kVA(r, s_.rows, *present_z, second_z);
        check("second", second_unit_check(r, sets, *present_z, second_z));
    }
}

void Studying::fault() {
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
    row_amps_ = full_load_A(r.rating_kVA, r.lv_V).value_or(0.0);
}

void Studying::high_side() {
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

std::vector<double> Studying::usual_day() const {
    std::vector<double> day;
    const LimitSet& set = sets_.of("uprating.day_shape");
    if (const model::LimitTable* table = set.table("hours")) {
        for (const model::LimitRow& row : table->rows) {
            day.push_back(cell(*table, row, "share", Unit::One).value_or(0.0));
        }
    }
    return day;
}

const StockUnit* Studying::in_stock(double rating) const {
    for (const StockUnit& unit : f_.stock) {
        if (unit.rating_kVA == rating) {
            return &unit;
        }
    }
    return nullptr;
}

std::optional<double> Studying::impedance_of(double rating, std::optional<double> own) const {
    const StockUnit* unit = in_stock(rating);
    if (!own && unit != nullptr) {
        own = unit->impedance_percent;
    }
    return own ? own : usual_impedance_percent(rating, sets_.of("uprating.impedance"));
}

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
