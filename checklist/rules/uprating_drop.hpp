// Voltage left at the farthest service: inside the transformer, along the LV cable, along the main.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/crimp.hpp"
#include "checklist/rules/loading.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

/// A stretch of conductor, three-phase, loaded at its end.
struct Stretch {
    Metal metal = Metal::Aluminium;
    double area_mm2 = 0.0;  ///< a size of the conductor set
    int runs = 1;           ///< 1 to 8
    double length_m = 0.0;  ///< 0 to 20 000
    double current_A = 0.0; ///< of all runs, 0 to 20 000
    double hot_C = 90.0;    ///< conductor temperature, 20 to 250
};

/// Resistance in Ω/km at a temperature, from the table of the metal (rows by size, 20 °C) and
/// "alpha.<metal>"; nothing for a size without a row.
[[nodiscard]] std::optional<double> resistance_ohm_km(Metal metal, double area_mm2, double at_C,
                                                      const model::LimitSet& conductors);
/// √3 (r cos + x sin), line to line, in V per A and km. Power factor 0 to 1, lagging.
[[nodiscard]] std::optional<double> drop_V_per_A_km(Metal metal, double area_mm2, double at_C,
                                                    double power_factor, const model::LimitSet& conductors);
/// √3 |z| of the same: what makers print when they do not know the power factor.
[[nodiscard]] std::optional<double> worst_drop_V_per_A_km(Metal metal, double area_mm2, double at_C,
                                                          const model::LimitSet& conductors);
/// Line to line, in V.
[[nodiscard]] std::optional<double> drop_V(const Stretch& stretch, double power_factor,
                                           const model::LimitSet& conductors);

struct DropReadings {
    double lv_V = 433.0; ///< no-load, phase to phase
    double power_factor = 0.9;
    Stretch cable;                   ///< from the transformer to the breakers
    std::optional<Stretch> main;     ///< on to the farthest service
    std::optional<LossFacts> losses; ///< of the new transformer
    double share = 1.0;              ///< of its rating, 0 to 3
};

/// Cable and main against "drop.most" and "drop.marginal" percent of the no-load voltage (set of subject
/// "uprating.drop"), then what is left at the farthest service, transformer included, against "voltage.low"
/// of the set of subject "voltage.supply". Marginal when the main or the losses are not known. Subject
/// "uprating.drop".
[[nodiscard]] Outcome drop_check(const DropReadings& readings, const model::LimitSet& conductors,
                                 const model::LimitSet& drop, const model::LimitSet& supply);

} // namespace crossarm::rules
