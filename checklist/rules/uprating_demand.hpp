// What is asked of a transformer now and at the end of the planning horizon.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/timestamp.hpp"
#include "checklist/rules/outcome.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace crossarm::rules {

/// One recorded moment at the LV side.
struct LoadSample {
    model::Timestamp at;
    std::array<double, 3> phase_A{}; ///< 0 to 20 000 each
    std::optional<double> neutral_A; ///< 0 to 20 000
    bool operator==(const LoadSample&) const = default;
};

/// A load that is connected, or that somebody has applied for.
struct BilledLoad {
    std::string name;
    double connected_kVA = 0.0; ///< above 0 up to 10 000
    double demand_factor = 1.0; ///< its own peak over its connected load, above 0 up to 1
    double diversity = 1.0;     ///< sum of such peaks over their common peak, 1 to 20
    bool applied = false;       ///< not connected yet
    bool operator==(const BilledLoad&) const = default;
};

struct DemandReadings {
    std::vector<LoadSample> samples; ///< peaks or a history, in order of time; may be empty
    std::vector<BilledLoad> loads;
    double lv_V = 433.0;         ///< no-load, phase to phase, 100 to 1000
    double growth_percent = 0.0; ///< of what is connected, each year, -10 to 30
    int horizon_years = 10;      ///< 0 to 40
    double power_factor = 0.9;   ///< above 0 up to 1
};

/// Demand in kVA always means what the most loaded phase asks of a rating, √3 U I.
struct Demand {
    bool recorded = false;  ///< from samples; otherwise from connected load
    LoadSample peak;        ///< the sample with the highest phase; zeros when not recorded
    double neutral_A = 0.0; ///< the highest recorded; worked out at equal angles when none was
    double unbalance_percent = 0.0;
    double total_kVA = 0.0; ///< all three phases together at the peak
    double now_kVA = 0.0;
    double connected_kVA = 0.0; ///< connected load by demand factor and diversity; 0 when none is given
    double applied_kVA = 0.0;   ///< applied-for load by demand factor and diversity
    double horizon_kVA = 0.0;   ///< now (1 + g)^n, and the applied-for load without growth
    double horizon_kW = 0.0;
    std::optional<double> load_factor;      ///< mean over peak; from 168 samples on
    std::optional<double> loss_load_factor; ///< mean of squares over square of the peak; from 168 samples on
    std::vector<double> day; ///< shares of the peak, hour by hour, of the day of the peak; empty when that
                             ///< day does not have 24 samples
};

/// Nothing when a value is impossible or there is neither a sample nor a connected load.
[[nodiscard]] std::optional<Demand> demand(const DemandReadings& readings);

/// Peak after a whole or broken number of years, peak (1 + g)^n.
[[nodiscard]] std::optional<double> grown(double peak, double growth_percent, double years);
/// Years until a demand reaches a capacity, ln(capacity / demand) / ln(1 + g): 0 when it is there already,
/// nothing when it never gets there.
[[nodiscard]] std::optional<double> years_until(double demand, double capacity, double growth_percent);

/// The demand with its workings: Watch when the phases are out of balance ("unbalance.watch_above"), when the
/// connected load would make far more than was recorded ("connected.watch_above" percent), or when nothing
/// was recorded. Set of subject "uprating.planning". Subject "uprating.demand".
[[nodiscard]] Outcome demand_check(const DemandReadings& readings, const model::LimitSet& planning);

} // namespace crossarm::rules
