// Letters to type with a finger, for the rare text that is no choice.
#pragma once

#include "ui/touch/text_draft.hpp"
#include "ui/touch/touch.hpp"

#include <string_view>

namespace crossarm::ui {

/// The text, and keys of full target size: three rows of ten where the room is wide enough, else in order of
/// the alphabet in as many columns as fit, on two pages if need be. True when "keep" is touched (text not
/// empty). Keys are "name/key/a".., "name/space", "shift", "digits", "page", "delete", "keep"; the text is
/// "name/value".
[[nodiscard]] bool keyboard(Touch& touch, std::string_view name, TextDraft& draft);

} // namespace crossarm::ui
