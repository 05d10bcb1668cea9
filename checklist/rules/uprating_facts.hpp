// What an uprating study starts from: the structure, its site, its load, the stock list and prices.
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/rules/uprating_breaker.hpp"
#include "checklist/rules/uprating_cable.hpp"
#include "checklist/rules/uprating_demand.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::rules {

/// What the office knows about the site besides the register. What is not known stays empty: the checks that
/// need it say so and give no verdict.
struct SiteFacts {
    std::optional<double> growth_percent; ///< a year
    std::optional<double> power_factor;
    std::optional<double> air_C; ///< hottest usual air at the structure
    std::optional<double> ground_C;
    std::optional<double> soil_Km_W;
    std::optional<double> third_harmonic_percent;
    std::optional<double> network_MVA;      ///< short-circuit power at the HV side
    std::optional<double> hv_earth_fault_A; ///< through this electrode
    std::optional<double> hv_clearing_s;
    std::optional<double> lv_clearing_s; ///< of a fault at the LV terminals
    std::string cable_metal;             ///< "copper", "aluminium"
    std::string cable_insulation;        ///< "xlpe", "pvc"
    std::string cable_laid;              ///< "e", "f", "c", "d1", "d2"
    std::optional<double> cable_mm2;     ///< as it is there now
    std::optional<double> cable_runs;
    std::optional<double> cable_m; ///< transformer to breakers
    std::optional<double> circuits_beside;
    std::string main_metal;
    std::optional<double> main_mm2;
    std::optional<double> main_m;             ///< breakers to the farthest service
    std::optional<double> main_share_percent; ///< of the transformer's load, as if drawn at its end
    std::optional<double> breakers;           ///< how many now
    std::optional<double> breaker_A;
    std::optional<double> breaker_kA;         ///< Icu
    std::optional<double> breaker_clearing_s; ///< at the fault level, by the maker's curve
    std::optional<double> hv_lead_mm2;        ///< copper, xlpe
    std::string earth_metal;                  ///< "copper", "aluminium", "steel"
    std::optional<double> earth_mm2;
    std::optional<double> electrode_ohm;
    std::optional<double> electrode_rods;
    std::optional<double> mass_limit_kg;
    std::optional<double> mass_other_kg;
    std::optional<double> impulse_kV; ///< withstand asked of the new unit
    std::optional<double> air_spacing_m;
    std::optional<double> live_height_m;
};

/// A transformer that can be had.
struct StockUnit {
    double rating_kVA = 0.0;
    std::optional<double> impedance_percent;
    std::optional<double> no_load_loss_W;
    std::optional<double> load_loss_W;
    std::optional<double> mass_kg;
    std::optional<double> oil_litres;
    std::optional<double> price;
};

struct Prices {
    std::optional<double> energy; ///< per kWh lost
    double interest_percent = 0.0;
    int life_years = 25;
};

/// A set that somebody asks about instead of what the study would choose.
struct Wish {
    std::optional<double> rating_kVA;
    std::optional<Breakers> breakers;
    std::optional<Cable> cable;
};

struct StudyFacts {
    model::Structure at;
    std::vector<LoadSample> samples;
    std::vector<BilledLoad> loads;
    SiteFacts site;
    std::vector<StockUnit> stock; ///< empty: every preferred rating may be asked for
    Prices prices;
    int horizon_years = 10;
    Wish wish;
};

} // namespace crossarm::rules
