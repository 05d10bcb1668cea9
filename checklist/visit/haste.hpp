// Signs that answers were given without looking: shown to the lead before signing, as facts.
//
// Each of them can have a good reason, and none of them blocks anything. Looked at are the answers that
// stand: what was withdrawn or corrected, and the acts of the permit, are left out.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/protocol.hpp"
#include "checklist/model/register.hpp"
#include "checklist/visit/fact.hpp"

#include <cstddef>
#include <vector>

namespace crossarm::visit {

/// Common sense, no source. Register positions are often off by a span between two poles, and what a phone
/// finds out by some ten metres.
constexpr std::size_t kLeastRun = 8;   ///< answers in a row
constexpr double kQuickAnswer_s = 2.0; ///< median time since the entry before
constexpr double kAlikeShare = 0.9;    ///< of a run
constexpr double kFarFromStructure_m = 300.0;
/// How much a reading that equals the last one to the digit counts, and how much has to come together. A
/// whole number alone (a count, a percentage) is often the same and does not count, nor do several that are
/// all alike; one number with decimals counts 1; three or more whole numbers taken together count 1, three
/// or more with decimals 3.
constexpr int kCopiesTold = 3;

/// In this order: runs of quick answers and runs of equal answers on each tablet, readings that equal the
/// last ones, the position noted at arrival when it can be read (model::parse_position) and is far from the
/// structure. A run is at least 8 answers of one tablet, in the order of its entries. An answer before which
/// the clock was set back counts as a slow one. The order in which entries are passed does not matter.
[[nodiscard]] std::vector<Fact> haste(const model::Protocol& protocol, const model::Register& reg,
                                      const std::vector<model::Entry>& entries);

} // namespace crossarm::visit
