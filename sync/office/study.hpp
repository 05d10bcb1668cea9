// The study command: uprating of one structure, or all of a register ranked by urgency.
#pragma once

#include "sync/office/arguments.hpp"
#include "sync/office/command.hpp"
#include "sync/office/progress.hpp"

namespace crossarm::office {

/// The names that the command takes.
[[nodiscard]] Grammar study_grammar();
/// What stands in the help.
[[nodiscard]] const char* study_help();
/// Runs it. Nothing is changed anywhere but the files named with --html, --after, --csv and --materials.
[[nodiscard]] Ending run_study(const Arguments& arguments, const Progress& progress);

} // namespace crossarm::office
