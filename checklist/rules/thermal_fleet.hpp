// The hot-spot model for a whole fleet: one array a quantity, a block of transformers at a time.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/rules/hot_spot.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace crossarm::rules {

/// One transformer of the fleet.
struct FleetUnit {
    ThermalFacts facts;
    double peak_share = 0.0; ///< multiplies the shape, 0 to 3
    std::size_t shape = 0;   ///< which load shape it follows
    Paper paper = Paper::Normal;
    double ambient_offset_K = 0.0; ///< added to the ambient series, -30 to 30
};

/// What a run left of one transformer.
struct FleetResult {
    ThermalState end;
    double highest_hot_spot_C = 0.0;
    double aged_min = 0.0; ///< life used up, in minutes of life at rate 1
};

/// The load of the fleet: shapes of equal length, each value 0 to 3 with shape times peak share at most 3
/// and no unit beyond 400 °C; one ambient series of the same length, °C; the step between values in minutes,
/// 0.05 to 1440.
struct FleetSeries {
    std::vector<std::vector<double>> shapes;
    std::vector<double> ambient_C;
    double step_min = 60.0;
};

/// Runs every unit through the series from the steady state of its first step, on `threads` threads (1 to
/// 64). Temperatures are exact for a step of any length (exponential form). Ageing of a step is taken at its
/// end, by which a distribution winding (4 min) has settled within an hour; use a shorter step for slow
/// windings. Every result is the same to the last bit whatever the number of threads and the vector width. It
/// differs from `after` and `ageing_rate` by less than 1e-9 relative, because powers are worked out by
/// polynomials. Problem for a unit or series that is impossible; nothing is run then.
[[nodiscard]] model::Result<std::vector<FleetResult>> run_fleet(std::span<const FleetUnit> units,
                                                                const FleetSeries& series, unsigned threads);

/// The same, one unit after the other with the plain functions: what `run_fleet` is measured against.
[[nodiscard]] model::Result<std::vector<FleetResult>> run_fleet_plainly(std::span<const FleetUnit> units,
                                                                        const FleetSeries& series);

/// Bytes that one step of one unit reads and writes in the innermost loop (in the nearest cache).
[[nodiscard]] std::size_t fleet_bytes_per_step();

} // namespace crossarm::rules
