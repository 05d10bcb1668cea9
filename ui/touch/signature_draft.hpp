// A signature while it is being drawn.
#pragma once

#include "checklist/model/strokes.hpp"

#include <string>

namespace crossarm::ui {

/// Two samples of one finger lie nearer than this; farther, a second finger or the palm took the pointer.
/// Common practice, no source.
inline constexpr int kMostJumpTenths = 200;

struct SignatureDraft {
    model::Strokes strokes;
    bool open = false;  ///< the finger is still on the last line
    bool cut = false;   ///< the pointer jumped: this touch draws no more
    std::string notice; ///< words key of what has to be said about the last touch; empty when nothing
};

/// A finger came down at this point of the pad.
void begin_line(SignatureDraft& draft, model::StrokePoint at);
/// The finger went on to there. After lift_off() it goes on as a new line; after a jump nothing is drawn
/// until the next begin_line.
void draw_to(SignatureDraft& draft, model::StrokePoint at);
/// The finger left the pad or lifted: the line ends and is thinned.
void lift_off(SignatureDraft& draft);
void clear(SignatureDraft& draft);

/// Words key of why this is no signature yet: "signature.empty", "signature.too_little"; empty when it is.
[[nodiscard]] std::string why_not_signed(const SignatureDraft& draft);
/// The strokes as text for an entry, thinned. Only when why_not_signed() is empty.
[[nodiscard]] std::string signed_text(const SignatureDraft& draft);

} // namespace crossarm::ui
