// A structure as it is after an uprating: by the visit that put up the new unit, or as proposed.
#pragma once

#include "checklist/rules/uprating_study.hpp"
#include "sync/office/new_units.hpp"

#include <vector>

namespace crossarm::office {

/// What is compared. Without a visit that put up the new unit the page says that it is a plan, and the new
/// unit is the one that the study proposes.
struct AfterFacts {
    const rules::StudyFacts& before; ///< with the plate of the old unit
    const model::LimitLibrary& library;
    const NewUnit* unit = nullptr; ///< of the visit; null: planned
};

/// Facts as they are after the visit: the recorded plate, cable, breakers and leads in place of the old ones,
/// or the proposal's.
[[nodiscard]] rules::StudyFacts facts_after(const AfterFacts& facts, const rules::Study& before);
/// The numbers recorded at a checkpoint; empty when there are none.
[[nodiscard]] std::vector<double> readings_at(const visit::State& state, const char* checkpoint);

} // namespace crossarm::office
