#include "ui/app/study_face.hpp"

#include "sync/office/study_sheet.hpp"

#include <imgui.h>

#include <string_view>

namespace crossarm::ui {

namespace {

// What the letters must be able to draw besides the words files: what register, site files and limits bring.
std::vector<std::string_view> texts_to_draw(const office::StudyDesk& desk) {
    std::vector<std::string_view> out;
    for (const auto& [key, words] : desk.words.texts()) {
        out.push_back(words);
    }
    for (const model::Structure& at : desk.reg.structures) {
        out.insert(out.end(), {at.name, at.feeder, at.plate.make, at.plate.serial, at.plate.hv_fuse,
                               at.plate.lv_breaker, at.plate.vector_group});
    }
    for (const auto& [id, asked] : desk.in.asked) {
        for (const rules::BilledLoad& load : asked) {
            out.push_back(load.name);
        }
    }
    for (const model::LimitSet& set : desk.library.sets) {
        out.push_back(set.title);
    }
    out.push_back(kWorkingsSigns);
    return out;
}

StudyLine line_of(const office::RankedStudy& row) {
    StudyLine line;
    line.structure = row.urgency.structure;
    line.name = row.name;
    line.feeder = row.feeder;
    line.present_kVA = row.present_kVA;
    line.proposed_kVA = row.proposal.rating_kVA;
    line.uprate = row.proposal.uprate;
    line.worst = row.worst;
    line.urgency = row.urgency;
    return line;
}

StudyOne study_of(const office::StudyDesk& desk, const model::Structure& at) {
    const rules::StudyFacts facts = desk.facts(at);
    StudyOne one;
    one.structure = at.id;
    one.name = at.name;
    one.study = rules::uprating_study(facts, desk.library);
    one.summary = office::study_summary(facts, one.study, desk.words);
    one.present = rules::sketch(rules::present_sketch(facts, one.study));
    one.proposed = rules::sketch(rules::proposed_sketch(facts, one.study));
    return one;
}

} // namespace

StudyFace::StudyFace(const office::StudyDesk& desk, FontFiles font_files, bool glove,
                     const std::string& structure, const office::Progress& progress)
    : desk_(desk), font_files_(std::move(font_files)), glove_(glove) {
    for (const office::RankedStudy& row : office::ranking(desk, progress)) {
        lines_.push_back(line_of(row));
    }
    if (!structure.empty()) {
        go({StudyScreen::One, structure, ""});
    }
}

void StudyFace::go(const StudyPlace& place) {
    const model::Structure* at = desk_.reg.structure(place.structure);
    if (at == nullptr || place.screen == StudyScreen::List) {
        place_ = {};
        one_.reset();
        return;
    }
    if (!one_ || one_->structure != at->id) {
        one_ = study_of(desk_, *at);
    }
    place_ = place;
}

void StudyFace::resized(int width_px, int height_px, float px_per_mm) {
    screen_ = {0, 0, static_cast<float>(width_px), static_cast<float>(height_px)};
    Sizes sizes;
    sizes.px_per_mm = px_per_mm;
    sizes.glove = glove_;
    const auto fonts = build_fonts(*ImGui::GetIO().Fonts, font_files_, sizes, texts_to_draw(desk_));
    model::require(fonts.ok(), "the fonts that were found can be built");
    if (touch_) {
        touch_->restyle(sizes, *fonts);
    } else {
        touch_ = std::make_unique<Touch>(sizes, Theme::sun(), *fonts, desk_.words);
    }
}

void StudyFace::draw(double now_s) {
    touch_->begin_frame(now_s, screen_);
    const auto next = draw_study(*touch_, {lines_, one_ ? &*one_ : nullptr, desk_.years}, place_);
    touch_->end_frame();
    changed_ = next.has_value();
    if (next) {
        go(*next);
        touch_->screen_changed();
    }
}

} // namespace crossarm::ui
