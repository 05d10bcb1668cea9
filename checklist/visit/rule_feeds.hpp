// From a checkpoint's answer to the rule that it feeds: one adapter a rule.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"
#include "checklist/visit/state.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::visit {

/// What an adapter may look at.
struct Feed {
    const model::Checkpoint& checkpoint;
    const Answer& answer;
    const State& state;
    const model::Structure& structure;
    const model::Register& reg;
    const model::LimitLibrary& limits;
};

/// Calls the rule of that name ("oil.breakdown") with the readings it needs. Nothing when readings beside
/// this one are not there yet, or when no rule has that name.
[[nodiscard]] std::optional<rules::Outcome> feed_rule(std::string_view rule, const Feed& feed);

/// The names a protocol's `feeds` may use.
[[nodiscard]] std::vector<std::string> rule_names();

} // namespace crossarm::visit
