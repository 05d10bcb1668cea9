// A face for trying one widget: a function that draws, with the program's own letters and words.
#pragma once

#include "checklist/model/words.hpp"
#include "ui/touch/face.hpp"

#include <functional>
#include <memory>

namespace crossarm::tests {

class PlainFace : public ui::Face {
public:
    explicit PlainFace(std::function<void(ui::Touch&)> paint, bool glove = false, float text_scale = 1);

    void resized(int width_px, int height_px, float px_per_mm) override;
    void draw(double now_s) override;
    [[nodiscard]] ui::Touch& touch() override { return *touch_; }

private:
    std::function<void(ui::Touch&)> paint_;
    model::Words words_;
    ui::Sizes sizes_;
    ui::Rect screen_;
    std::unique_ptr<ui::Touch> touch_;
};

} // namespace crossarm::tests
