// The plate of a new transformer as an uprating visit recorded it, and the lettering that is made from a
// plate.
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/visit/state.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::bundle {

/// The plate that the answers give. hv_fuse, lv_breaker: as fitted in the visit, the old ones where nothing
/// was recorded. Nothing without rating and serial number. Facts out of range are told in `left_out`.
[[nodiscard]] std::optional<model::Nameplate>
recorded_plate(const visit::State& state, const model::Nameplate& before, std::vector<std::string>& left_out);

/// The lettering that the painter puts on the structure: name, number, rating, make and serial number, a line
/// each; what is not known is left out.
[[nodiscard]] std::vector<std::string> lettering(const model::Structure& at);

} // namespace crossarm::bundle
