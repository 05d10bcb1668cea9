// Lugs, dies and joints for the cable at the new transformer.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/crimp.hpp"
#include "checklist/rules/outcome.hpp"
#include "checklist/rules/uprating_cable.hpp"

#include <optional>

namespace crossarm::rules {

/// What is pressed onto each core.
struct Lugs {
    Metal lug = Metal::Copper; ///< bimetal where aluminium meets copper
    double area_mm2 = 0.0;
    int die_code = 0;
    int on_bushings = 0; ///< at the transformer: three phases and the neutral, every run
    int on_breakers = 0;
};
/// Four cores a run. The die by the set's table "die_copper" or "die_aluminium"; nothing without a row.
[[nodiscard]] std::optional<Lugs> choose_lugs(const Cable& cable, Metal metal, Metal landing,
                                              const model::LimitSet& dies);
/// Passes with the die named, marginal because the code stamped on the lug comes first wherever the table is
/// not read from the standard, and when more than two lugs meet on one stud. Subject "uprating.lugs".
[[nodiscard]] Outcome lugs_check(const Cable& cable, Metal metal, Metal landing, const model::LimitSet& dies);

} // namespace crossarm::rules
