// What intake says at its end.
#pragma once

#include "sync/office/intake.hpp"

#include <string>

namespace crossarm::office {

/// One line a file, gaps and forks, and a summary as the last line.
[[nodiscard]] std::string intake_text(const Intake& intake);
/// One file alone: what became of it, why, and what is odd about the tablet's clock. Whole lines.
[[nodiscard]] std::string line_text(const Line& line);
/// How many of each, as one line.
[[nodiscard]] std::string summary_text(const Intake& intake);
/// The same as one canonical JSON object.
[[nodiscard]] std::string intake_json(const Intake& intake);

} // namespace crossarm::office
