// A box to sign in with the finger, and the key that wipes it.
#pragma once

#include "ui/touch/signature_draft.hpp"
#include "ui/touch/touch.hpp"

#include <string_view>

namespace crossarm::ui {

/// Least size of the box in mm of the real glass.
inline constexpr float kSignatureWidthMm = 80.0F;
inline constexpr float kSignatureHeightMm = 30.0F;

/// Draws the box, as wide as the room and at least kSignatureWidthMm (a narrower room is the caller's bug),
/// higher where there is room in sight; below it what the last touch came to, and the key "name/clear". The
/// box is "name/box". A finger that came down in the box draws and never scrolls; beside it, it scrolls.
/// Nothing is kept here: ask why_not_signed() and signed_text().
void signature_pad(Touch& touch, std::string_view name, SignatureDraft& draft);

} // namespace crossarm::ui
