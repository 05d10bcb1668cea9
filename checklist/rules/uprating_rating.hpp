// Which preferred rating serves the horizon, what the others would leave free, and a second transformer
// beside the first.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/hot_spot.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <vector>

namespace crossarm::rules {

struct RatingFacts {
    double present_kVA = 0.0; ///< 1 to 10 000
    double now_kVA = 0.0;     ///< demand of the most loaded phase, above 0 up to 100 000
    double horizon_kVA = 0.0; ///< above 0 up to 100 000
    double hv_V = 11'000.0;
    double lv_V = 433.0;
    std::vector<double> day;       ///< shares of the peak, each 0 to 1, equal stretches of one day
    double ambient_C = 30.0;       ///< -50 to 60
    ThermalFacts thermal;          ///< of a unit of any rating
    std::vector<double> stock_kVA; ///< ratings that can be had; empty: every preferred one
};

/// The sets that decide.
struct RatingSets {
    const model::LimitSet& ratings;  ///< "uprating.ratings": table "ratings", column "rating"
    const model::LimitSet& planning; ///< "uprating.planning": "share.planned", "ageing.most" ...
    const model::LimitSet& loading;  ///< "loading.limits": "normal.hot_spot", "normal.top_oil"
};

/// One preferred rating under this demand.
struct RatingRow {
    double rating_kVA = 0.0;
    double hv_A = 0.0; ///< full load
    double lv_A = 0.0; ///< full load
    double share_now_percent = 0.0;
    double share_horizon_percent = 0.0;
    double headroom_now_kVA = 0.0; ///< below 0: what is missing
    double headroom_horizon_kVA = 0.0;
    std::optional<double> hot_spot_C; ///< on the worst day of the horizon; nothing above twice the rating
    std::optional<double> top_oil_C;
    std::optional<double> ageing; ///< mean relative ageing of that day
    bool serves = false;          ///< share, hot-spot, top oil and ageing all within the sets at the horizon
    bool in_stock = true;
};

/// Every preferred rating from the smallest to the largest, none twice. Nothing for impossible values or a
/// set without its figures. A rating serves when its share at the horizon is at most "share.planned", the
/// worst day stays within normal cyclic loading, and ageing within "ageing.most".
[[nodiscard]] std::optional<std::vector<RatingRow>> rating_rows(const RatingFacts& facts,
                                                                const RatingSets& sets);
/// The first row that serves and is in stock; its neighbours in stock. Null when there is none.
struct RatingChoice {
    const RatingRow* chosen = nullptr;
    const RatingRow* smaller = nullptr;
    const RatingRow* larger = nullptr;
};
[[nodiscard]] RatingChoice choose_rating(const std::vector<RatingRow>& rows);

/// A transformer as a partner in parallel: impedance 0.5 to 20 %, rating 1 to 10 000 kVA.
struct Partner {
    double rating_kVA = 0.0;
    double impedance_percent = 0.0;
};
/// The load that two units carry together before the one with the lower impedance is full,
/// Zmin (S1 / Z1 + S2 / Z2) (textbook; same ratio and vector group taken for granted).
[[nodiscard]] std::optional<double> parallel_kVA(const Partner& a, const Partner& b);
/// Share of the load that `a` takes.
[[nodiscard]] std::optional<double> parallel_share(const Partner& a, const Partner& b);

/// Chosen rating and why. Marginal above "share.marginal" at the horizon; fails when no rating serves.
/// Subject "uprating.rating".
[[nodiscard]] Outcome rating_check(const RatingFacts& facts, const RatingSets& sets);
/// The smallest in stock of the preferred ratings that, beside the present unit and with that impedance,
/// serves the horizon; 0 when none does.
[[nodiscard]] double second_unit_kVA(const RatingFacts& facts, const std::vector<RatingRow>& rows,
                                     double present_impedance, double new_impedance);
/// The second transformer as an alternative: impedances must be within "parallel.impedance" percent of each
/// other, otherwise marginal: one would take more than its share. Fails when no rating serves. Subject
/// "uprating.second_unit".
[[nodiscard]] Outcome second_unit_check(const RatingFacts& facts, const RatingSets& sets,
                                        double present_impedance, double new_impedance);

} // namespace crossarm::rules
