// A key for an act that cannot be undone: held for 1.2 s by the clock, with the consequence in words.
#pragma once

#include "ui/touch/touch.hpp"

#include <string_view>

namespace crossarm::ui {

/// At least 24 mm high. `label` names the act ("Hold to cancel permit 0042"), `consequence` what it means.
/// Progress runs along the top, above the finger. True once, in the frame in which 1.2 s are reached; lifting
/// earlier does nothing and says "held too short"; slipping more than 5 mm gives it up.
/// `why_disabled` as for button().
[[nodiscard]] bool hold_button(Touch& touch, std::string_view name, std::string_view label,
                               std::string_view consequence, std::string_view why_disabled = {});

} // namespace crossarm::ui
