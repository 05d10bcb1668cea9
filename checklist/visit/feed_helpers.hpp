// What the adapters of the rules share: finding an answer beside the one that is fed, and picking the worst.
#pragma once

#include "checklist/rules/outcome.hpp"
#include "checklist/visit/rule_feeds.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::visit {

/// The value that stands at a checkpoint; null when nothing was recorded there.
[[nodiscard]] const model::Value* value_at(const State& state, const std::string& checkpoint);
/// The first option picked at a checkpoint; "" when there is none.
[[nodiscard]] std::string picked_at(const State& state, const std::string& checkpoint);

/// The number in a value; nothing for another kind.
[[nodiscard]] std::optional<double> number_of(const model::Value& value);
/// The numbers in a value, in the order taken; one for a single number, none for another kind.
[[nodiscard]] std::vector<double> numbers_of(const model::Value& value);
/// The first option in a value; "" for another kind.
[[nodiscard]] std::string picked_of(const model::Value& value);

/// A rule cannot speak without a limit set: that is said, never taken for Sound.
[[nodiscard]] rules::Outcome no_limits(std::string_view subject);

/// The worst verdict. A refusal of one must not hide a verdict on another, and a Sound one must not hide a
/// refusal: the first refusal speaks when nothing worse than Sound was found. At least one outcome.
[[nodiscard]] rules::Outcome worst_of(const std::vector<rules::Outcome>& outcomes);

} // namespace crossarm::visit
