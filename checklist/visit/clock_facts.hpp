// What the times of a visit's entries say about the tablet's clock, and about a visit that lasts long.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/visit/fact.hpp"

#include <vector>

namespace crossarm::visit {

/// Nobody works longer than this without going home; a longer pause between two entries is told. Common
/// practice, no source: the utility's own rule decides.
constexpr double kLongestShift_h = 16.0;
/// A smaller step back is the clock being kept right.
constexpr double kLeastStepBack_s = 1.0;

/// In the order of each tablet's own entries (never of the clock): the clock went back between two entries,
/// and by how much; its offset from UTC changed; nothing was recorded for longer than a shift, or the clock
/// was set forward. `now` counts as the last entry of every tablet for going back and for the pause. At the
/// end, once: the visit goes past midnight. The order in which the entries are passed does not matter.
[[nodiscard]] std::vector<Fact> clock_facts(const std::vector<model::Entry>& entries, model::Timestamp now,
                                            double longest_shift_h = kLongestShift_h);

} // namespace crossarm::visit
