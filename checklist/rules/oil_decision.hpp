// One decision about the oil from all that is known of it.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string_view>

namespace crossarm::rules {

enum class OilDecision { Keep, Retest, DryByFiltering, Reclaim, Replace, OffLine };
/// "keep" "retest" "dry_by_filtering" "reclaim" "replace" "off_line"
[[nodiscard]] std::string_view name(OilDecision decision);

/// What is known of the oil; a test that was not made stays empty.
struct OilFindings {
    std::optional<model::Verdict> breakdown, water, acidity, loss_factor, tension, look, gases;
    std::optional<double> oil_litres; ///< nameplate, 10 to 20 000 L
    std::optional<double> oil_C;      ///< when work on the oil starts, -20 to 110 °C
    std::optional<double> pcb_mg_kg;  ///< tested PCB, 0 to 1 000 000 mg/kg; nothing is unknown
};

/// What to do with the oil. Dirt and water are dried out by filtering; ageing products need reclaiming, or
/// replacing where the volume is small; a scattered set of shots is tested again first; gases or a look that
/// stand at Danger keep the transformer off line.
[[nodiscard]] OilDecision decide(const OilFindings& findings, const model::LimitSet& practice);

/// The decision as a verdict: its grade is the worst of the findings', its workings hold the litres to order
/// (rounded up to whole `order.step` litres), its cautions those of PCB, hot oil, disposal and deciding on
/// one test alone. `practice` is a set of subject "oil.decision". NoVerdict: nothing was tested, impossible
/// volumes or temperatures, a set without its figures.
[[nodiscard]] Outcome oil_decision(const OilFindings& findings, const model::LimitSet& practice);

} // namespace crossarm::rules
