#include "checklist/rules/uprating_cost.hpp"

#include "checklist/rules/answer.hpp"
#include "checklist/rules/outcome.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::rules {
namespace {

using model::Unit;

constexpr double kMostShare = 3.0;

bool possible(const LifeFacts& f) {
    return within(f.now_kVA, 0.0, 100'000.0) && within(f.growth_percent, -10.0, 30.0) &&
           within(f.applied_kVA, 0.0, 100'000.0) && f.growth_years >= 0 && f.life_years >= 1 &&
           f.life_years <= 60 && within(f.loss_load_factor, 0.0, 1.0) &&
           (!f.price || within(*f.price, 0.0, 1e9)) &&
           (!f.energy_price || within(*f.energy_price, 0.0, 1e6)) && within(f.interest_percent, 0.0, 30.0) &&
           within(f.losses.rating_kVA, 1.0, 10'000.0);
}

} // namespace

std::optional<LifeCost> life_cost(const LifeFacts& f) {
    if (!possible(f)) {
        return std::nullopt;
    }
    LifeCost cost;
    double worth = 0.0;
    for (int year = 0; year < f.life_years; ++year) {
        const double peak_kVA =
            f.now_kVA * std::pow(1.0 + f.growth_percent / 100.0, std::min(year, f.growth_years)) +
            f.applied_kVA;
        const auto kWh = yearly_loss_kWh(f.losses, std::min(kMostShare, peak_kVA / f.losses.rating_kVA),
                                         f.loss_load_factor);
        if (!kWh) {
            return std::nullopt;
        }
        cost.first_year_kWh = year == 0 ? *kWh : cost.first_year_kWh;
        cost.all_kWh += *kWh;
        worth += *kWh / std::pow(1.0 + f.interest_percent / 100.0, year + 1);
    }
    if (f.energy_price) {
        cost.energy_now = worth * *f.energy_price;
        cost.all_now = f.price ? std::optional(*f.price + *cost.energy_now) : std::nullopt;
    }
    return cost;
}

std::optional<LossFacts> usual_losses(double rating_kVA, double impedance_percent,
                                      const model::LimitSet& set) {
    const model::LimitTable* table = set.table("losses");
    const model::LimitRow* row = table == nullptr || !within(rating_kVA, 1.0, 10'000.0)
                                     ? nullptr
                                     : row_of(*table, model::number_for_people(rating_kVA));
    const auto no_load = row == nullptr ? std::nullopt : cell(*table, *row, "no_load", Unit::Watt);
    const auto load = row == nullptr ? std::nullopt : cell(*table, *row, "load", Unit::Watt);
    return no_load && load ? std::optional(LossFacts{rating_kVA, *no_load, *load, impedance_percent})
                           : std::nullopt;
}

std::optional<double> payback_years(double dearer_by, double saved_kWh_a_year, double energy_price) {
    if (!within(dearer_by, 0.0, 1e9) || !within(saved_kWh_a_year, 1e-9, 1e9) ||
        !within(energy_price, 1e-9, 1e6)) {
        return std::nullopt;
    }
    return dearer_by / (saved_kWh_a_year * energy_price);
}

} // namespace crossarm::rules
