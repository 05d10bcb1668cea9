// The lines of the round: what is due, and how far each structure's newest visit has come.
#pragma once

#include "ui/screens/view.hpp"

#include <vector>

namespace crossarm::ui {

/// One line a structure: visits begun and not signed first, then by due date, what is not due last.
[[nodiscard]] std::vector<RoundLine> round_lines(const model::Register& reg,
                                                 const std::vector<store::VisitRow>& visits,
                                                 const std::vector<store::OutboxRow>& outbox);

} // namespace crossarm::ui
