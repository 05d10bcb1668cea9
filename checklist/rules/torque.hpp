// Tightening torque of bolts by size, strength class and whether the thread is dry or lubricated.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>

namespace crossarm::rules {

/// A bolt as it was tightened.
struct TorqueReadings {
    std::string size;        ///< "M12"
    std::string strength;    ///< property class, "8.8"
    bool lubricated = false; ///< thread greased or oiled
    double applied_Nm = 0.0; ///< what the wrench was set to, above 0 up to 2000
};

/// Against the row "<size>/<strength>" of the set's table "torque", column "dry" or "lubricated". A set
/// without that column or row gives no verdict: torque for one thread state or class never stands in for
/// another. Below by more than "tolerance.low": Repair, tighten before supply returns. Above by more than
/// "tolerance.high": Repair, renew the bolt. Subject "joint.torque".
[[nodiscard]] Outcome torque(const TorqueReadings& readings, const model::LimitSet& set);

/// T = K d F with F = 0.75 x proof stress x stress area, in N·m: what a steel fastener takes.
/// K 0.05 to 0.5, d 3 to 64 mm, proof stress 100 to 1200 MPa, area 1 to 3000 mm²; nothing outside.
[[nodiscard]] std::optional<double> bolt_torque_Nm(double k, double diameter_mm, double proof_MPa,
                                                   double area_mm2);

} // namespace crossarm::rules
