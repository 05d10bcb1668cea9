// The folder that bundles arrive in: which files are meant for intake, and where they go when they are taken.
#pragma once

#include "checklist/model/result.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace crossarm::office {

/// Ends in .json or .jsonl and is not hidden; what is still being written has another ending (.part).
[[nodiscard]] bool is_for_intake(std::string_view name);
/// Several bundles, one a line.
[[nodiscard]] bool holds_several(std::string_view name);

/// Names of the files meant for intake, sorted. Problem when the folder cannot be read.
[[nodiscard]] model::Result<std::vector<std::string>> names_in(const std::string& folder);

/// Moves `folder`/`name` to `folder`/taken/`name`, or with the beginning of its SHA-256 before the name when
/// there is such a file. False when the folder cannot be written to; the file then stays.
bool move_to_taken(const std::string& folder, const std::string& name);

} // namespace crossarm::office
