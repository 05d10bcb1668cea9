// What intake says at its end.
#pragma once

#include "sync/office/intake.hpp"

#include <string>

namespace crossarm::office {

/// One line a file, gaps and forks, and a summary as the last line.
[[nodiscard]] std::string intake_text(const Intake& intake);
/// The same as one canonical JSON object.
[[nodiscard]] std::string intake_json(const Intake& intake);

} // namespace crossarm::office
