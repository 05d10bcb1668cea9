// The before-and-after page of an uprating: what the structure could carry and what it can carry now.
#pragma once

#include "sync/office/after_facts.hpp"
#include "sync/office/study_sheet.hpp"

namespace crossarm::office {

/// Old and new beside each other, the loads, what the visit measured, the lettering and both sketches.
[[nodiscard]] Sheet after_sheet(const AfterFacts& facts, const model::Words& words);

} // namespace crossarm::office
