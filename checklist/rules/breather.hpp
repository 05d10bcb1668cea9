// The breather: how much of the gel is spent.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <string>

namespace crossarm::rules {

/// What is seen at the breather's glass.
struct GelReadings {
    double spent_percent = 0.0; ///< share of the gel that has changed colour, 0 to 100 %
    std::string kind;           ///< "blue", "orange", "none" (sealed tank), "" unknown
    bool from_top = false;      ///< the colour has changed at the top first
};

/// Grades the spent share. `limits` is a set of subject "breather.gel" with "spent.*" in %. Colour shows that
/// gel is spent, not how much it can still take up. Change from the top means that air comes in above the
/// breather: at least Repair. NoVerdict: a share out of range, an unknown kind, no breather fitted.
[[nodiscard]] Outcome gel(const GelReadings& readings, const model::LimitSet& limits);

/// Cautions for handling gel of that kind; unknown gel is handled as cobalt gel.
[[nodiscard]] std::vector<model::Phrase> gel_cautions(const std::string& kind);

} // namespace crossarm::rules
