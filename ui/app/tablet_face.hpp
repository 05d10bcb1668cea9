// The program's face: the session's screens on a glass of some size.
#pragma once

#include "ui/look/fonts.hpp"
#include "ui/screens/session.hpp"
#include "ui/touch/face.hpp"

#include <memory>

namespace crossarm::ui {

class TabletFace : public Face {
public:
    /// The session and the words outlive the face. `font_files` come from find_fonts().
    TabletFace(Session& session, const model::Words& words, FontFiles font_files, bool glove);

    void resized(int width_px, int height_px, float px_per_mm) override;
    void draw(double now_s) override;
    [[nodiscard]] Touch& touch() override { return *touch_; }
    [[nodiscard]] bool moving() override { return touch_->moving() || changed_; }
    [[nodiscard]] double next_due_s() override { return next_minute_s_; }

private:
    Session& session_;
    const model::Words& words_;
    FontFiles font_files_;
    bool glove_;
    Rect screen_;
    std::unique_ptr<Touch> touch_;
    bool changed_ = false; ///< the last frame's wishes changed what has to be shown
    double next_minute_s_ = kNever;
};

} // namespace crossarm::ui
