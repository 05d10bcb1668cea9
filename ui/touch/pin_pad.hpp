// Keys for a PIN: how many digits were typed is shown, which ones never.
#pragma once

#include "ui/touch/pin_draft.hpp"
#include "ui/touch/touch.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace crossarm::ui {

/// Title, one dot a digit, notices, and the keys; beside each other when wide. The digits when "done" is
/// touched, which can be once there are enough; the draft is wiped then. Keys are "name/0".."name/9", "wipe",
/// "done"; the dots are "name/dots". Put it in a ScrollArea where it may not fit.
[[nodiscard]] std::optional<std::string> pin_pad(Touch& touch, std::string_view name, PinDraft& draft);

} // namespace crossarm::ui
