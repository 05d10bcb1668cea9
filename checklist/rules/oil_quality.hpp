// Ageing of the oil: acidity, loss factor, interfacial tension, look; and a published index from three tests.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>

namespace crossarm::rules {

/// Acidity, 0 to 5 mg KOH/g, against "acidity.*". NoVerdict outside or without a limit.
[[nodiscard]] Outcome acidity(double acidity_mgKOH_g, const model::LimitSet& limits);
/// Dielectric loss factor (tan δ) at 90 °C and 40 Hz to 62 Hz, a pure number 0 to 10, against
/// "loss_factor.*".
[[nodiscard]] Outcome loss_factor(double tan_delta_90, const model::LimitSet& limits);
/// Interfacial tension to water, 1 to 80 mN/m, against "tension.inhibited.*" or "tension.uninhibited.*". When
/// it is not known whether the oil is inhibited, the stricter answer counts.
[[nodiscard]] Outcome tension(double tension_mN_m, std::optional<bool> inhibited,
                              const model::LimitSet& limits);
/// How the sample looks: "clear", "cloudy", "dark", "particles", "free_water". `looks` is a set of subject
/// "oil.look" with a table "look" (column "grade", 0 to 3). Colour alone rejects no oil: dark oil is Watch.
[[nodiscard]] Outcome look(const std::string& seen, const model::LimitSet& looks);

/// The condition index of a regulator's published method.
struct OilIndex {
    double score = 0.0;
    double factor = 1.0;
    double collar = 0.5; ///< least health score that the oil allows
    double cap = 10.0;   ///< greatest
};
/// `index` is a set of subject "oil.index": tables "moisture" (mg/kg), "acidity", "breakdown" and "factor",
/// each row with "up_to" and "score" (a row holds what is above the row before and up to its own bound), and
/// the weights and ends as limits. Nothing for readings that are not finite or negative, or a set that is not
/// so.
[[nodiscard]] std::optional<OilIndex> oil_index(double moisture_mg_kg, double acidity_mgKOH_g,
                                                double breakdown_kV, const model::LimitSet& index);

} // namespace crossarm::rules
