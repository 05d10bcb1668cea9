// Prospective short-circuit current at the LV terminals of a transformer.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

struct FaultFacts {
    double rating_kVA = 0.0;        ///< 1 to 10 000
    double lv_V = 433.0;            ///< no-load, phase to phase, 100 to 1000
    double impedance_percent = 0.0; ///< 0.5 to 20
    double tolerance_percent = 0.0; ///< taken off the impedance, 0 to 30
    std::optional<double>
        network_MVA; ///< short-circuit power at the HV side, 1 to 100 000; nothing: infinite
};
/// U / (√3 (Z U² / (100 S) + U² / S_network)), both impedances taken in phase: never too low. In kA.
[[nodiscard]] std::optional<double> lv_fault_kA(const FaultFacts& facts);

/// A transformer's impedance in mΩ at the LV side with the correction of IEC 60909-0,
/// KT = 0.95 c / (1 + 0.6 xT).
struct CorrectedImpedance {
    double r_mOhm = 0.0;
    double x_mOhm = 0.0;
    double factor = 0.0; ///< KT
};
/// Load loss 0 to 500 000 W, c 1.0 to 1.1; nothing when the load loss makes more than the impedance.
[[nodiscard]] std::optional<CorrectedImpedance> corrected_impedance(double rating_kVA, double voltage_V,
                                                                    double impedance_percent,
                                                                    double load_loss_W, double c);
/// c Un / (√3 |KT Z|), infinite network, in kA (IEC 60909-0).
[[nodiscard]] std::optional<double> lv_fault_60909_kA(double rating_kVA, double voltage_V,
                                                      double impedance_percent, double load_loss_W, double c);

/// Impedance where the plate does not say: table "impedance" (rows "up_to" kVA, "impedance" %).
[[nodiscard]] std::optional<double> usual_impedance_percent(double rating_kVA, const model::LimitSet& set);

/// The fault level with the tolerance of the set taken on the unfavourable side, and what it was before.
/// Marginal when the impedance is not from a plate or offer. Set of subject "uprating.impedance". Subject
/// "uprating.fault".
struct FaultReadings {
    double rating_kVA = 0.0;
    double lv_V = 433.0;
    std::optional<double> impedance_percent; ///< of the new unit
    std::optional<double> network_MVA;
    double present_kVA = 0.0;
    std::optional<double> present_impedance_percent;
};
[[nodiscard]] Outcome fault_check(const FaultReadings& readings, const model::LimitSet& set);
/// The current of that check alone.
[[nodiscard]] std::optional<double> worst_fault_kA(double rating_kVA, double lv_V,
                                                   std::optional<double> impedance_percent,
                                                   std::optional<double> network_MVA,
                                                   const model::LimitSet& set);

} // namespace crossarm::rules
