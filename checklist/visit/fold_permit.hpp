// The permit's part of the fold: from its acts to what it is now.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/visit/permit.hpp"

#include <vector>

namespace crossarm::visit {

/// `entries` stand in the fold's order. See fold() for what counts as irregular.
[[nodiscard]] permit::State fold_permit(const std::vector<model::Entry>& entries,
                                        const std::string& structure, const permit::Rules& rules);

} // namespace crossarm::visit
