// Does a value fit the checkpoint it is recorded at?
#pragma once

#include "checklist/model/phrase.hpp"
#include "checklist/model/protocol.hpp"
#include "checklist/model/register.hpp"

#include <optional>
#include <string>

namespace crossarm::visit {

/// The reason why `finding` cannot be kept at `checkpoint`, as a sentence; nothing when it can. Asks: kind of
/// value, options and people that exist, unit, number of readings, hard range, a reason for what is outside
/// the usual range, length of texts, whether out of reach and not fitted are answers here.
[[nodiscard]] std::optional<model::Phrase>
check_value(const model::Checkpoint& checkpoint, const model::Finding& finding, const model::Register& reg);

/// True when a reading (or one of several) lies outside the usual range and so needs a reason.
[[nodiscard]] bool is_unusual(const model::Checkpoint& checkpoint, const model::Value& value);

/// True when the text has no character but spaces and line ends.
[[nodiscard]] bool is_blank(const std::string& text);

} // namespace crossarm::visit
