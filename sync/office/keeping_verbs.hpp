// The verbs that hand out and look after what is kept: export, backup, restore, salvage, person.
#pragma once

#include "sync/office/arguments.hpp"
#include "sync/office/command.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace crossarm::office {

/// Nothing when `name` is none of these verbs.
[[nodiscard]] std::optional<Grammar> keeping_grammar(std::string_view name);
[[nodiscard]] Ending run_keeping_verb(std::string_view name, const Arguments& arguments,
                                      const Surroundings& around);
[[nodiscard]] std::string keeping_help();

} // namespace crossarm::office
