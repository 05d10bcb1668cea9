// Gas dissolved in the oil: what kind of fault its mixture points to.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string_view>
#include <vector>

namespace crossarm::rules {

/// Gas volumes in the oil, µL/L; each 0 to 1 000 000. 0 stands for not detected.
struct Gases {
    double hydrogen_ppm = 0.0;
    double methane_ppm = 0.0;
    double ethane_ppm = 0.0;
    double ethylene_ppm = 0.0;
    double acetylene_ppm = 0.0;
    std::optional<double> carbon_monoxide_ppm;
    std::optional<double> carbon_dioxide_ppm;
};

/// Kinds of fault (IEC 60599): partial discharge, low and high energy discharge, thermal below 300 °C, 300 °C
/// to 700 °C, above 700 °C; and the mixed zone that only the triangle has.
enum class GasFault { PD, D1, D2, T1, T2, T3, DT };
/// "PD" "D1" "D2" "T1" "T2" "T3" "DT"
[[nodiscard]] std::string_view name(GasFault fault);

/// All values finite and in range.
[[nodiscard]] bool possible(const Gases& gases);

/// Every fault whose row the three ratios satisfy, in the order PD, D1, D2, T1, T2, T3: the rows overlap by
/// design, so there may be two; and there may be none. `ratios` is a set of subject "oil.gas_ratios" with a
/// table "ratios" (two columns a ratio, unit 1; -1 means open). A ratio that has both ends in the row holds
/// at the ends; one with a single end holds only beyond it. A ratio of nothing to nothing satisfies no limit.
/// Empty for impossible gases or a set without the table.
[[nodiscard]] std::vector<GasFault> ratio_codes(const Gases& gases, const model::LimitSet& ratios);

/// The zone of the triangle (shares of methane, ethylene, acetylene). `triangle` is a set of subject
/// "oil.gas_triangle". The standard does not say to which zone a border belongs; here a border belongs to the
/// zone on its higher side: the zone with more methane at 98 %, else the one with more ethylene or acetylene.
/// Compared without division, so whole ppm fall exactly on a border. The triangle has no zone for healthy
/// oil: ask it only when a gas is above its typical value. Nothing when the three gases are all 0, impossible
/// or the set lacks a limit.
[[nodiscard]] std::optional<GasFault> triangle_zone(const Gases& gases, const model::LimitSet& triangle);

/// The sample before this one.
struct EarlierGases {
    Gases gases;
    double days_ago = 0.0; ///< more than 0, up to 20 000 d
};

/// Sets that the verdict needs.
struct GasLimits {
    const model::LimitSet& typical;  ///< subject "oil.gas_typical": "<gas>.watch_above", "<gas>.repair_above"
    const model::LimitSet& ratios;   ///< subject "oil.gas_ratios"
    const model::LimitSet& triangle; ///< subject "oil.gas_triangle"
    const model::LimitSet& meaning;  ///< subject "oil.gas_meaning": table "fault" (grade), "rise.share_above"
};

/// Sound while every gas is at or below its typical value and none has risen sharply. Else the worst of: what
/// the triangle's zone and the ratio rows mean, and what the amounts themselves mean. Both methods are always
/// told, also when they differ. NoVerdict: impossible gases, sets without figures.
[[nodiscard]] Outcome gases(const Gases& now, const std::optional<EarlierGases>& earlier,
                            const GasLimits& limits);

} // namespace crossarm::rules
