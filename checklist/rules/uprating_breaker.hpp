// LV breakers behind a transformer: how many, of which rating, and what they can break.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

/// Several like breakers side by side.
struct Breakers {
    int count = 0;         ///< 1 to 8
    double rating_A = 0.0; ///< of each, 1 to 6300
    double icu_kA = 0.0;   ///< of each, ultimate breaking capacity, 0.5 to 200
    bool operator==(const Breakers&) const = default;
};

struct BreakerNeeds {
    double current_A = 0.0; ///< full load of the transformer, above 0 up to 20 000
    double fault_kA = 0.0;  ///< at the LV terminals, above 0 up to 200
    int count = 0;          ///< asked for; 0: as few as the largest frame allows
};

/// What one of `count` like ways carries: its equal share and "parallel.uneven" percent more.
[[nodiscard]] std::optional<double> share_of_way_A(double current_A, int count, const model::LimitSet& set);

/// The smallest breakers that do: rating at least the share of a way, from the table "frames" up to
/// "frame.largest"; breaking capacity with the fault level at most 90 % of it, from the table "breaking". At
/// most "parallel.most". Nothing when none does, or for impossible values.
[[nodiscard]] std::optional<Breakers> choose_breakers(const BreakerNeeds& needs, const model::LimitSet& set);

/// Whether these breakers do. Fails when one carries more than its rating or cannot break the fault; marginal
/// above 90 % of the breaking capacity. Subject "uprating.breaker".
[[nodiscard]] Outcome breaker_check(const Breakers& breakers, const BreakerNeeds& needs,
                                    const model::LimitSet& set);
/// What is needed, chosen by the set; refused when none does. Subject "uprating.breaker".
[[nodiscard]] Outcome breaker_choice(const BreakerNeeds& needs, const model::LimitSet& set);

} // namespace crossarm::rules
