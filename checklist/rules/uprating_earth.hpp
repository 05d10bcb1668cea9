// Earthing conductor and electrodes of the substation for the new fault level.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>

namespace crossarm::rules {

/// k S / √t sizing of the bare earthing conductor.
struct EarthConductorReadings {
    std::string metal = "copper";     ///< "copper", "aluminium", "steel"
    double fault_kA = 0.0;            ///< what may flow from the neutral, above 0 up to 200
    double clearing_s = 0.0;          ///< 0.02 to 5
    std::optional<double> fitted_mm2; ///< 1 to 2000
};
/// The next size of the set that is not below I √t / k and not below "least.<metal>"; nothing when none is.
[[nodiscard]] std::optional<double> earth_conductor_mm2(const EarthConductorReadings& readings,
                                                        const model::LimitSet& set);
/// Fails when the fitted one is smaller; marginal when nobody knows what is fitted. Subject
/// "uprating.earth_conductor".
[[nodiscard]] Outcome earth_conductor_check(const EarthConductorReadings& readings,
                                            const model::LimitSet& set);

struct ElectrodeReadings {
    std::optional<double> measured_ohm;  ///< of all rods together, 0.01 to 10 000
    std::optional<int> rods;             ///< like rods that made it, 1 to 24
    std::optional<double> earth_fault_A; ///< HV earth fault through the electrode, 1 to 20 000
    double clearing_s = 1.0;             ///< of that fault, 0.05 to 10
};
struct ElectrodeSets {
    const model::LimitSet& electrode; ///< "earth.electrode": "electrode.target", "electrode.most"
    const model::LimitSet& touch;     ///< "earth.touch": table "touch"
    const model::LimitSet& earthing;  ///< "uprating.earthing": "touch.factor"
    const model::LimitSet& rods;      ///< "earth.rods": table "parallel"
};
/// The resistance below which an HV earth fault keeps the electrode's voltage within the permitted touch
/// voltage times "touch.factor", capped by "electrode.most". Nothing for impossible values.
[[nodiscard]] std::optional<double> electrode_allowed_ohm(double earth_fault_A, double clearing_s,
                                                          const ElectrodeSets& sets);
/// How many like rods bring the measured resistance down to `wanted_ohm`; nothing when the table ends before.
[[nodiscard]] std::optional<int> rods_needed(double measured_ohm, int rods, double wanted_ohm,
                                             const model::LimitSet& rods_set);
/// Fails above what is allowed, marginal above "electrode.target" or when the earth fault is not known. The
/// HV earth fault does not grow with the transformer; the LV one does. Subject "uprating.electrode".
[[nodiscard]] Outcome electrode_check(const ElectrodeReadings& readings, const ElectrodeSets& sets);

} // namespace crossarm::rules
