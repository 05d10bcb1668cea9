// What an outage costs the customers: customer-minutes, and its shares of SAIDI and SAIFI.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <vector>

namespace crossarm::rules {

/// Customers who came back together.
struct OutageStage {
    double minutes = 0.0; ///< they were off, 0 to 100 000
    int customers = 0;    ///< 0 to 10 000 000
};

struct OutageFigures {
    double customer_minutes = 0.0;    ///< of sustained interruptions
    double customers_interrupted = 0; ///< of sustained interruptions
    double momentary_customers = 0;   ///< off for no longer than the momentary limit: not counted above
    double saidi_min = 0.0;           ///< customer-minutes over customers served
    double saifi = 0.0;               ///< customers interrupted over customers served
};

/// IEEE 1366: an interruption of at most `momentary_min` minutes is momentary and counts in neither index.
/// Nothing for an impossible number, no stage, no customers served, or more customers off than served.
[[nodiscard]] std::optional<OutageFigures> outage_figures(const std::vector<OutageStage>& stages,
                                                          int customers_served, double momentary_min);

/// The figures as workings, with the set's limit "momentary.at_most". Always Sound: it grades nothing.
/// Subject "outage".
[[nodiscard]] Outcome outage(const std::vector<OutageStage>& stages, int customers_served,
                             const model::LimitSet& set);

} // namespace crossarm::rules
