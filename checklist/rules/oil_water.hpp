// Water in the oil: corrected to 20 °C, and as a share of what the oil can hold.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

struct WaterReadings {
    double water_mg_kg = 0.0; ///< as sampled, 0 to 500 mg/kg
    double oil_C = 0.0;       ///< oil temperature at sampling, -20 to 110 °C
    bool free_water = false;  ///< drops or a layer of water are seen in the sample
};

/// Factor that brings a water content at `oil_C` to 20 °C: a · exp(-b · t), IEC 60422. `correction` is a set
/// of subject "oil.water_correction" ("factor", "exponent", "from", "to" in °C). Never more than 1: the
/// formula gives 1.0065 at 20 °C. Nothing outside from-to: below 20 °C it is not to be extended.
[[nodiscard]] std::optional<double> factor_to_20(double oil_C, const model::LimitSet& correction);
/// Water that new mineral oil holds at saturation, mg/kg: log10 S = a - b / (273.15 + t). `solubility` is a
/// set of subject "oil.water_solubility" ("a", "b" in K). Nothing outside -20 to 110 °C or without the set.
[[nodiscard]] std::optional<double> saturation_mg_kg(double oil_C, const model::LimitSet& solubility);

/// Sets that the verdict needs.
struct WaterLimits {
    const model::LimitSet& limits;     ///< "water.as_sampled.*" or "water.at_20.*", mg/kg, never both
    const model::LimitSet& correction; ///< subject "oil.water_correction"
    const model::LimitSet& solubility; ///< subject "oil.water_solubility"
    const model::LimitSet& saturation; ///< subject "oil.saturation": "saturation.*", %
};

/// Grades the water by the set's own reading of it: as sampled, or corrected to 20 °C. The two are never
/// mixed. Oil close to saturation is worse than its mg/kg say, so the saturation's grade counts when it is
/// worse. Free water is Repair at least. Says nothing of the paper. NoVerdict: impossible readings, a set
/// with no or with both kinds of limit, a correction asked for outside its range.
[[nodiscard]] Outcome water(const WaterReadings& readings, const WaterLimits& limits);

} // namespace crossarm::rules
