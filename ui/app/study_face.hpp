// The office's face: the screens of the uprating study. It has no store and changes nothing.
#pragma once

#include "sync/office/study_desk.hpp"
#include "ui/look/fonts.hpp"
#include "ui/screens/study_view.hpp"
#include "ui/touch/face.hpp"

#include <memory>
#include <string>
#include <vector>

namespace crossarm::ui {

class StudyFace : public Face {
public:
    /// Studies every structure first: about a minute for ten thousand. The desk outlives the face. It opens
    /// on `structure`, or on the list when that is empty or not in the register.
    StudyFace(const office::StudyDesk& desk, FontFiles font_files, bool glove,
              const std::string& structure = {}, const office::Progress& progress = {});

    void resized(int width_px, int height_px, float px_per_mm) override;
    void draw(double now_s) override;
    [[nodiscard]] Touch& touch() override { return *touch_; }
    [[nodiscard]] bool moving() override { return touch_->moving() || changed_; }

private:
    void go(const StudyPlace& place);

    const office::StudyDesk& desk_;
    FontFiles font_files_;
    bool glove_;
    std::vector<StudyLine> lines_;
    StudyPlace place_;
    std::optional<StudyOne> one_;
    Rect screen_;
    std::unique_ptr<Touch> touch_;
    bool changed_ = false; ///< the last frame's touch changed what has to be shown
};

} // namespace crossarm::ui
