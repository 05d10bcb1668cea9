// Heat on the crew: heat index with its range of validity, and the rest that it or the WBGT calls for.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

/// Heat index of the US National Weather Service in °C from shade temperature and relative humidity: the
/// Rothfusz regression with both adjustments, or its simple form below 80 °F of result. The simple form
/// already averages with the temperature and is used once. Temperature -20 to 50 °C, humidity 0 to 100 %.
[[nodiscard]] std::optional<double> heat_index_C(double temperature_C, double humidity_percent);

/// How hard the work is, as the ACGIH screening table has it. Climbing and trimming are heavy.
enum class Work { Light, Moderate, Heavy, VeryHeavy };

struct HeatReadings {
    double temperature_C = 0.0;    ///< in the shade, -40 to 60
    double humidity_percent = 0.0; ///< 0 to 100
    bool full_sun = false;         ///< adds "sun.adds" of the set, its whole amount
};

/// Weather is acted on at once, so every action here is due before supply returns.
/// The band of the set's table "bands" (column "from" Cel, "rest" minutes an hour) for the heat index. Above
/// "valid.temperature_up_to" the index is not valid and the rule refuses, saying so; the crew then works by
/// WBGT or stops. First band Sound, then Watch, Repair, Danger. Subject "conditions.heat".
[[nodiscard]] Outcome heat(const HeatReadings& readings, const model::LimitSet& bands);

/// WBGT outdoors, 0.7 natural wet bulb + 0.2 globe + 0.1 air, each -20 to 80 °C.
[[nodiscard]] std::optional<double> wbgt_C(double natural_wet_bulb_C, double globe_C, double air_C);
/// NIOSH 2016 limits in °C WBGT for a metabolic rate of 100 to 600 W: recommended exposure limit for people
/// used to heat (56.7 - 11.5 log10 M), alert limit for others (59.9 - 14.1 log10 M).
[[nodiscard]] std::optional<double> niosh_limit_C(double metabolic_W, bool used_to_heat);

/// The share of each hour that may be worked at a WBGT, by the set's table "screening": rows from most work
/// to least with "work_up_to" %, columns "light" "moderate" "heavy" "very_heavy" Cel (0 where the table has
/// none). Full work Sound, then Watch, Repair; nothing allowed Danger. Subject "conditions.wbgt".
[[nodiscard]] Outcome wbgt_work(double wbgt_C, Work work, const model::LimitSet& set);

} // namespace crossarm::rules
