// Electrical loading of a transformer: power, share of rating, unbalance, neutral, losses, voltage drop.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <array>
#include <optional>

namespace crossarm::rules {

/// Full-load current of a three-phase winding, S / (√3 U). Rating 1 to 10 000 kVA, voltage 100 to 500 000 V;
/// nothing outside.
[[nodiscard]] std::optional<double> full_load_A(double rating_kVA, double voltage_V);

/// Unbalance in percent: the largest deviation of a phase from the mean of the three, over that mean (the
/// definition of NEMA MG-1 for line voltages, used here for currents too). It is not (highest - lowest) /
/// mean, which reads up to twice as high. Nothing when a value is not finite, negative, or all are 0.
[[nodiscard]] std::optional<double> unbalance_percent(const std::array<double, 3>& values);

/// Negative over positive sequence in percent from three line voltages (the IEC voltage unbalance factor).
/// Nothing when they cannot close a triangle.
[[nodiscard]] std::optional<double> unbalance_factor_percent(const std::array<double, 3>& line_V);

/// Neutral current when the three currents stand at 120° (equal power factor, no harmonics), in A.
[[nodiscard]] std::optional<double> neutral_equal_angles_A(const std::array<double, 3>& current_A);
/// Neutral current when each phase lags its own voltage by an angle in degrees (-90 to 90), no harmonics.
[[nodiscard]] std::optional<double> neutral_with_angles_A(const std::array<double, 3>& current_A,
                                                          const std::array<double, 3>& lag_deg);
/// The most it can be whatever the angles and harmonics: the sum of the three.
[[nodiscard]] std::optional<double> neutral_worst_A(const std::array<double, 3>& current_A);

/// Load losses and impedance of a transformer as its plate or test certificate has them.
struct LossFacts {
    double rating_kVA = 0.0;        ///< 1 to 10 000
    double no_load_loss_W = 0.0;    ///< 0 to 100 000
    double load_loss_W = 0.0;       ///< at rated current, 0 to 500 000
    double impedance_percent = 0.0; ///< 0.5 to 20, not below the part that the load loss makes
};

/// Voltage drop inside the transformer in percent of no-load voltage, for a load of `share` (0 to 3) at a
/// power factor of 0 to 1, lagging or leading.
struct Regulation {
    double one_term_percent = 0.0; ///< n (er cos + ex sin)
    double two_term_percent = 0.0; ///< with the cross term n^2 (ex cos - er sin)^2 / 200
    double exact_percent = 0.0;    ///< |1 + n (er + j ex) / 100 (cos - j sin)| - 1
};
[[nodiscard]] std::optional<Regulation> regulation(const LossFacts& facts, double share, double power_factor,
                                                   bool leading = false);

/// No-load loss plus load loss times share squared, in W. Share 0 to 3.
[[nodiscard]] std::optional<double> losses_W(const LossFacts& facts, double share);
/// Output over input, in percent; share above 0, power factor above 0 up to 1.
[[nodiscard]] std::optional<double> efficiency_percent(const LossFacts& facts, double share,
                                                       double power_factor);
/// Share of rating at which efficiency is best, √(P0 / Pk); nothing when the load loss is 0.
[[nodiscard]] std::optional<double> best_share(const LossFacts& facts);
/// Energy lost in a year of 8 760 h, in kWh: peak share 0 to 3, loss-load factor 0 to 1.
[[nodiscard]] std::optional<double> yearly_loss_kWh(const LossFacts& facts, double peak_share,
                                                    double loss_load_factor);
/// Loss-load factor from load factor, c LF + (1 - c) LF^2, both 0 to 1. (LF^2 + c (1 - LF), seen in print,
/// is wrong: it gives c at no load.)
[[nodiscard]] std::optional<double> loss_load_factor(double load_factor, double c);

/// Currents read at the LV side.
struct LoadReadings {
    std::array<double, 3> current_A{}; ///< 0 to 20 000 each
    std::optional<double> neutral_A;   ///< 0 to 20 000
    double rating_kVA = 0.0;           ///< 1 to 10 000
    double lv_V = 433.0;               ///< no-load, phase to phase, 100 to 1000
};

/// Share of rating by the most loaded phase, with total power, unbalance and neutral current in the workings.
/// Limits of the set: "share.watch_above", "share.repair_above", "share.danger_above",
/// "unbalance.watch_above". A neutral above its worst case is refused: one of the readings is wrong.
/// Subject "loading.share".
[[nodiscard]] Outcome load(const LoadReadings& readings, const model::LimitSet& limits);

/// Voltages at the LV terminals, phase to neutral.
struct SupplyReadings {
    std::array<double, 3> phase_V{}; ///< 0 to 1000 each
};

/// Each phase against "voltage.low" and "voltage.high" of the set. Outside: Repair within 7 days; above
/// "voltage.danger_high" or below "voltage.danger_low", where the set has them: Danger. Subject
/// "voltage.supply".
[[nodiscard]] Outcome supply_voltage(const SupplyReadings& readings, const model::LimitSet& limits);

/// Three line voltages against "unbalance.watch_above" and "unbalance.repair_above". The set says with the
/// limit "unbalance.by_sequence" (1) that it means the sequence factor; otherwise deviation from the mean.
/// Subject "voltage.unbalance".
[[nodiscard]] Outcome voltage_unbalance(const std::array<double, 3>& line_V, const model::LimitSet& limits);

} // namespace crossarm::rules
