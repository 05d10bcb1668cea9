#include "tests/support/plain_face.hpp"

#include <imgui.h>

#include <fstream>
#include <iterator>
#include <stdexcept>

namespace crossarm::tests {

PlainFace::PlainFace(std::function<void(ui::Touch&)> paint, bool glove, float text_scale)
    : paint_(std::move(paint)) {
    sizes_.glove = glove;
    sizes_.text_scale = text_scale;
    std::ifstream file(CROSSARM_SOURCE_DIR "/assets/words/en/touch.json");
    const std::string text(std::istreambuf_iterator<char>(file), {});
    if (const model::Done read = words_.add(text, "touch.json"); !read.ok()) {
        throw std::runtime_error(model::to_text(read.problem()));
    }
}

void PlainFace::resized(int width_px, int height_px, float px_per_mm) {
    sizes_.px_per_mm = px_per_mm;
    screen_ = {0, 0, static_cast<float>(width_px), static_cast<float>(height_px)};
    const auto files = ui::find_fonts();
    if (!files) {
        throw std::runtime_error(model::to_text(files.problem()));
    }
    const auto fonts = ui::build_fonts(*ImGui::GetIO().Fonts, *files, sizes_, {});
    if (!fonts) {
        throw std::runtime_error(model::to_text(fonts.problem()));
    }
    if (touch_ == nullptr) {
        touch_ = std::make_unique<ui::Touch>(sizes_, ui::Theme::sun(), *fonts, words_);
    } else {
        touch_->restyle(sizes_, *fonts);
    }
}

void PlainFace::draw(double now_s) {
    touch_->begin_frame(now_s, screen_);
    paint_(*touch_);
    touch_->end_frame();
}

} // namespace crossarm::tests
