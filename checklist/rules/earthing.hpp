// Earth electrodes: resistance of rods, soil resistivity, validity of a measurement, step and touch voltage.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

/// One vertical rod, ρ / (2πL) (ln(8L/d) - 1) (Dwight; BS 7430; IEEE 142), in Ω. ρ 0.1 to 100 000 Ω·m, length
/// 0.3 to 50 m, diameter 0.003 to 0.5 m; nothing outside. (ln(4L/d) - 1 with the diameter, seen in print,
/// reads 11 % low.)
[[nodiscard]] std::optional<double> rod_ohm(double resistivity_ohm_m, double length_m, double diameter_m);
/// The form of IS 3043, ρ / (2πL) ln(4L/d), which reads about 5 % higher. Same ranges.
[[nodiscard]] std::optional<double> rod_is3043_ohm(double resistivity_ohm_m, double length_m,
                                                   double diameter_m);
/// Two like rods side by side, spacing from one rod length to 500 m (Dwight's two-rod formula).
[[nodiscard]] std::optional<double> two_rods_ohm(double resistivity_ohm_m, double length_m, double diameter_m,
                                                 double spacing_m);
/// n like rods one rod length apart, F R / n with F from the set's table "parallel" (row key "4", column
/// "factor"). Nothing when the table has no row for that number: it is not interpolated.
[[nodiscard]] std::optional<double> parallel_rods_ohm(double one_rod_ohm, int rods,
                                                      const model::LimitSet& set);

/// Soil resistivity by four probes at equal spacing (Wenner), in Ω·m: 2π a R.
[[nodiscard]] std::optional<double> wenner_ohm_m(double spacing_m, double resistance_ohm);
/// The same with the depth of the probes, exact: 4πaR / (1 + 2a/√(a²+4b²) - a/√(a²+b²)).
[[nodiscard]] std::optional<double> wenner_ohm_m(double spacing_m, double depth_m, double resistance_ohm);

/// What a fall-of-potential reading misses by when the potential probe stands at a share of the distance to
/// the current probe, for a hemisphere in uniform soil, in Ω. 0 at 0.618.
[[nodiscard]] std::optional<double> fall_of_potential_error_ohm(double resistivity_ohm_m,
                                                                double current_probe_m, double share);

/// Three readings of one traverse, the potential probe at 52, 62 and 72 % of the distance to the current
/// probe.
struct TraverseReadings {
    double at_52_ohm = 0.0; ///< above 0 up to 100 000
    double at_62_ohm = 0.0;
    double at_72_ohm = 0.0;
    std::optional<double> last_ohm; ///< the value of an earlier visit, same season
};

/// The resistance is the reading at 62 %. The three must agree within "spread.good" percent of it; up to
/// "spread.loose" the verdict is at least Watch; beyond that the reading is refused: move the current probe
/// farther out. Then against "electrode.target" and "electrode.most" of the set, and against the earlier
/// value
/// ("trend.watch_above" percent more: Watch). Subject "earth.electrode".
[[nodiscard]] Outcome electrode(const TraverseReadings& readings, const model::LimitSet& limits);
/// The same for one reading without a traverse: never better than Watch where the traverse is missing.
[[nodiscard]] Outcome electrode_single(double resistance_ohm, const model::LimitSet& limits);

/// How heavy a person is taken to be in IEEE 80.
enum class Body { Kg50, Kg70 };
/// Surface layer derating, 1 - 0.09 (1 - ρ/ρs) / (2 hs + 0.09). IEEE 80. hs 0 to 1 m.
[[nodiscard]] std::optional<double> surface_factor(double resistivity_ohm_m, double surface_ohm_m,
                                                   double depth_m);
/// Tolerable voltages of IEEE 80, in V; fault time 0.03 to 3 s.
struct StepTouch {
    double touch_V = 0.0; ///< (1000 + 1.5 Cs ρs) k / √t
    double step_V = 0.0;  ///< (1000 + 6 Cs ρs) k / √t
};
[[nodiscard]] std::optional<StepTouch> step_touch(double surface_factor, double surface_ohm_m, double fault_s,
                                                  Body body);

/// Permissible touch voltage by the duration of the fault, in V: the first row of the set's table "touch"
/// (columns "up_to" s, "voltage" V, durations rising) that is not shorter; it is not interpolated. Nothing
/// beyond the last row, for a duration of 0 or less, or without the table.
[[nodiscard]] std::optional<double> permissible_touch_V(double fault_s, const model::LimitSet& set);

} // namespace crossarm::rules
