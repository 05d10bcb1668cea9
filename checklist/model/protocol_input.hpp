// What a checkpoint of a protocol file takes as its answer.
#pragma once

#include "checklist/model/json_reader.hpp"
#include "checklist/model/protocol.hpp"

namespace crossarm::model {

/// Reads {"kind": "grade" | "choice" | "people" | "number" | "numbers" | "text", ...}. Problems stay in the
/// reader: an unknown kind or unit, a range turned round, usual outside hard, a choice that can only stop.
[[nodiscard]] Input read_input(const JsonReader& from);

} // namespace crossarm::model
