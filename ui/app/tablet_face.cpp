#include "ui/app/tablet_face.hpp"

#include "ui/screens/screens.hpp"

#include <imgui.h>

#include <string_view>
#include <vector>

namespace crossarm::ui {

namespace {

// What the letters must be able to draw besides the words files: everything the day pack and protocol bring.
std::vector<std::string_view> texts_to_draw(const View& view) {
    std::vector<std::string_view> out;
    for (const auto& [key, text] : view.words.texts()) {
        out.push_back(text);
    }
    for (const model::Structure& structure : view.reg.structures) {
        out.insert(out.end(), {structure.name, structure.feeder, structure.note, structure.plate.make});
    }
    for (const model::Person& person : view.reg.people) {
        out.push_back(person.name);
    }
    for (const model::Checkpoint& checkpoint : view.protocol().checkpoints) {
        out.insert(out.end(), {checkpoint.title, checkpoint.how});
        out.insert(out.end(), checkpoint.cautions.begin(), checkpoint.cautions.end());
    }
    out.push_back(view.office);
    out.push_back(kWorkingsSigns);
    return out;
}

} // namespace

TabletFace::TabletFace(Session& session, const model::Words& words, FontFiles font_files, bool glove)
    : session_(session), words_(words), font_files_(std::move(font_files)), glove_(glove) {}

void TabletFace::resized(int width_px, int height_px, float px_per_mm) {
    screen_ = {0, 0, static_cast<float>(width_px), static_cast<float>(height_px)};
    Sizes sizes;
    sizes.px_per_mm = px_per_mm;
    sizes.glove = glove_;
    const auto fonts = build_fonts(*ImGui::GetIO().Fonts, font_files_, sizes, texts_to_draw(session_.view()));
    model::require(fonts.ok(), "the fonts that were found can be built");
    if (touch_) {
        touch_->restyle(sizes, *fonts);
    } else {
        touch_ = std::make_unique<Touch>(sizes, Theme::sun(), *fonts, words_);
    }
}

void TabletFace::draw(double now_s) {
    session_.look_at_clock();
    Wishes wishes;
    touch_->begin_frame(now_s, screen_);
    draw_screen(*touch_, session_.view(), session_.place(), session_.drafts(), wishes);
    touch_->end_frame();
    changed_ = !wishes.empty();
    // The answer is on the disk when this returns: the next frame may say so.
    if (session_.carry_out(std::move(wishes))) {
        touch_->screen_changed();
    }
    const std::int64_t into_minute_ms = session_.view().now.utc_ms % 60'000;
    next_minute_s_ = now_s + static_cast<double>(60'000 - into_minute_ms) / 1000.0;
}

} // namespace crossarm::ui
