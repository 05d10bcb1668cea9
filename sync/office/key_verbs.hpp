// The verbs of crossarm-office about keys: its own, those of the tablets, and what they seal.
#pragma once

#include "checklist/model/timestamp.hpp"
#include "sync/office/arguments.hpp"
#include "sync/office/command.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace crossarm::office {

/// What the help says about them.
[[nodiscard]] const char* key_help();
/// The names that the verb takes; nothing when it is not one of key, enrol, tablets, revoke, receipt, verify.
[[nodiscard]] std::optional<Grammar> key_grammar(std::string_view verb);
[[nodiscard]] Ending run_key_verb(std::string_view verb, const Arguments& arguments, model::Timestamp now);

} // namespace crossarm::office
