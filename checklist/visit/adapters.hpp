// The adapters: each picks the readings of one rule out of a visit and calls it.
#pragma once

#include "checklist/visit/rule_feeds.hpp"

#include <optional>

namespace crossarm::visit {

/// What an adapter answers: nothing while readings are missing.
using Fed = std::optional<rules::Outcome>;

[[nodiscard]] Fed feed_breakdown(const Feed& feed);
[[nodiscard]] Fed feed_look(const Feed& feed);
[[nodiscard]] Fed feed_gel(const Feed& feed);
[[nodiscard]] Fed feed_cup(const Feed& feed);
[[nodiscard]] Fed feed_level(const Feed& feed);
[[nodiscard]] Fed feed_leak(const Feed& feed);
[[nodiscard]] Fed feed_damage(const Feed& feed);
[[nodiscard]] Fed feed_insulation(const Feed& feed);
[[nodiscard]] Fed feed_clearance(const Feed& feed);
[[nodiscard]] Fed feed_trim(const Feed& feed);
[[nodiscard]] Fed feed_joints(const Feed& feed);
[[nodiscard]] Fed feed_load(const Feed& feed);
[[nodiscard]] Fed feed_unbalance(const Feed& feed);
[[nodiscard]] Fed feed_electrode(const Feed& feed);
[[nodiscard]] Fed feed_wind(const Feed& feed);
[[nodiscard]] Fed feed_gear(const Feed& feed);

} // namespace crossarm::visit
