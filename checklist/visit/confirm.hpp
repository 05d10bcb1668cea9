// Whose own word an intent needs: the people who confirm it, each for themselves, before anything is kept.
#pragma once

#include "checklist/visit/intents.hpp"

#include <string>
#include <vector>

namespace crossarm::visit {

/// The people who confirm `intent` of person `who` by something only they know, in this order: first the one
/// who acts, then the second person of an issue or a cancelling. Empty when holding the tablet is enough.
/// Stopping the work never waits for a confirmation.
[[nodiscard]] std::vector<std::string> confirmers(const Intent& intent, const std::string& who);

} // namespace crossarm::visit
