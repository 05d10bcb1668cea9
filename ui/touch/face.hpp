// What a window shows and a finger touches: the seam between the program and the real or the still platform.
#pragma once

#include "ui/touch/pacer.hpp"
#include "ui/touch/touch.hpp"

namespace crossarm::ui {

class Face {
public:
    virtual ~Face() = default;
    /// The size or px/mm changed (also called before the first frame): build letters into
    /// ImGui::GetIO().Fonts and restyle here. Between frames.
    virtual void resized(int width_px, int height_px, float px_per_mm) = 0;
    /// Draws one frame, from touch().begin_frame to touch().end_frame; called between ImGui::NewFrame and
    /// ImGui::Render. `now_s` is a monotonic clock that starts near 0.
    virtual void draw(double now_s) = 0;
    /// Valid after the first resized().
    [[nodiscard]] virtual Touch& touch() = 0;
    [[nodiscard]] virtual bool moving() { return touch().moving(); }
    /// When the face changes by itself, on the clock of draw(); kNever if never.
    [[nodiscard]] virtual double next_due_s() { return kNever; }
    /// The person closed the window. False keeps it open.
    virtual bool may_close() { return true; }
};

} // namespace crossarm::ui
