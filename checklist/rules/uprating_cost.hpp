// Energy lost over the life of a transformer, and what it costs.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/loading.hpp"

#include <optional>

namespace crossarm::rules {

struct LifeFacts {
    LossFacts losses;
    double now_kVA = 0.0;               ///< peak of the first year, 0 to 100 000
    double growth_percent = 0.0;        ///< a year, -10 to 30
    double applied_kVA = 0.0;           ///< from the first year on, without growth
    int growth_years = 0;               ///< the load stands still after that
    int life_years = 25;                ///< 1 to 60
    double loss_load_factor = 0.0;      ///< 0 to 1
    std::optional<double> price;        ///< of the unit, any currency, 0 to 1e9
    std::optional<double> energy_price; ///< per kWh lost, same currency, 0 to 1e6
    double interest_percent = 0.0;      ///< 0 to 30
};
struct LifeCost {
    double first_year_kWh = 0.0;
    double all_kWh = 0.0;
    std::optional<double> energy_now; ///< present worth of the energy, paid at the end of each year
    std::optional<double> all_now;    ///< and the price
};
/// Nothing for impossible values. A share above 3 is held at 3.
[[nodiscard]] std::optional<LifeCost> life_cost(const LifeFacts& facts);

/// No-load and load loss of a rating where neither plate nor stock list says: the set's table "losses" (rows
/// "rating" kVA, "no_load" W, "load" W); nothing without that very row.
[[nodiscard]] std::optional<LossFacts> usual_losses(double rating_kVA, double impedance_percent,
                                                    const model::LimitSet& set);

/// Years until the saved energy pays for the dearer unit, price difference / (kWh a year × price a kWh);
/// nothing when nothing is saved.
[[nodiscard]] std::optional<double> payback_years(double dearer_by, double saved_kWh_a_year,
                                                  double energy_price);

} // namespace crossarm::rules
