// The number pad: the number above or beside the keys, with all that helps to see a slip.
#pragma once

#include "ui/touch/number_draft.hpp"
#include "ui/touch/touch.hpp"

#include <string_view>

namespace crossarm::ui {

/// Draws number, unit, last reading, usual range, notices, and the keys; side by side when wide, stacked when
/// narrow. True when "keep" is touched, which it can be only if number(draft) holds; the screen asks the
/// question of Tenfold and Unusual itself. Keys are "name/0".."name/9", "point", "sign", "delete", "clear",
/// "keep"; the number is "name/value". Put it in a ScrollArea where it may not fit.
[[nodiscard]] bool number_pad(Touch& touch, std::string_view name, NumberDraft& draft);

} // namespace crossarm::ui
