// The permit's screens without a store: acts go through the guards and nothing else, every PIN of six equal
// pairs is right. For looking at the screens, and for walking a permit by finger.
#pragma once

#include "tests/support/png.hpp"
#include "tests/support/raster.hpp"
#include "tests/support/screen_rig.hpp"
#include "ui/screens/screens.hpp"

#include <imgui.h>

#include <cstdlib>

namespace crossarm::tests {

inline constexpr const char* kBenchPin = "121212"; ///< of everybody here

class PermitFace : public ui::Face {
public:
    PermitFace(const ui::View& view, const model::Words& words, bool glove)
        : view_(view), words_(words), glove_(glove) {
        for (const model::Person& person : view_.reg.people) {
            view_.have_pin.insert(person.id);
        }
        refresh();
    }

    void resized(int width_px, int height_px, float px_per_mm) override {
        screen_ = {0, 0, static_cast<float>(width_px), static_cast<float>(height_px)};
        ui::Sizes sizes;
        sizes.px_per_mm = px_per_mm;
        sizes.glove = glove_;
        const auto files = ui::find_fonts();
        model::require(files.ok(), "there are fonts");
        std::vector<std::string_view> texts = {"²·−°"};
        for (const auto& [key, text] : words_.texts()) {
            texts.push_back(text);
        }
        const auto fonts = ui::build_fonts(*ImGui::GetIO().Fonts, *files, sizes, texts);
        model::require(fonts.ok(), "the fonts can be built");
        touch_ = std::make_unique<ui::Touch>(sizes, ui::Theme::sun(), *fonts, words_);
    }
    void draw(double now_s) override {
        view_.now = {kScenarioMorningMs + static_cast<std::int64_t>(now_s * 1000) + later_ms, 0};
        ui::Wishes wishes;
        touch_->begin_frame(now_s, screen_);
        ui::draw_screen(*touch_, view_, way_.back(), drafts_, wishes);
        touch_->end_frame();
        const ui::Place before = way_.back();
        changed_ = !wishes.empty();
        for (ui::Wish& wish : wishes) {
            carry_out(wish);
        }
        if (!(before == way_.back())) {
            touch_->screen_changed();
        }
    }
    [[nodiscard]] ui::Touch& touch() override { return *touch_; }
    [[nodiscard]] bool moving() override { return touch_->moving() || changed_; }

    [[nodiscard]] ui::View& view() { return view_; }
    [[nodiscard]] const visit::permit::State& permit() const { return view_.at_hand->permit.state; }
    [[nodiscard]] const ui::Place& place() const { return way_.back(); }
    void go(const ui::Place& place) { carry_out(ui::GoTo{place}); }
    void hand_to(const std::string& person) { view_.who = person; }
    std::int64_t later_ms = 0;
    std::size_t acts = 0; ///< kept

private:
    void carry_out(const ui::Wish& wish) {
        view_.notice.clear();
        view_.pin_notice.clear();
        if (const auto* to = std::get_if<ui::GoTo>(&wish)) {
            way_.push_back(to->place);
        } else if (std::holds_alternative<ui::GoBack>(wish)) {
            if (way_.size() > 1) {
                way_.pop_back();
            }
        } else if (const auto* mean = std::get_if<ui::Mean>(&wish)) {
            act(mean->intent, view_.who);
        } else if (const auto* with = std::get_if<ui::MeanWithPins>(&wish)) {
            for (const ui::GivenPin& pin : with->pins) {
                if (pin.digits != kBenchPin) {
                    view_.pin_notice = "Wrong PIN of " + view_.name_of(pin.person) + ".";
                    return;
                }
            }
            act(with->intent, with->pins.front().person);
        } else if (const auto* take = std::get_if<ui::TakeOver>(&wish)) {
            if (take->pin == kBenchPin || !view_.have_pin.contains(take->person)) {
                view_.who = take->person;
            } else {
                view_.pin_notice = "Wrong PIN.";
            }
        } else if (const auto* set = std::get_if<ui::SetPin>(&wish)) {
            view_.have_pin.insert(set->fresh.person);
            way_.pop_back();
        }
        drafts_.belong_to(way_.back().checkpoint);
    }
    void act(const visit::Intent& intent, const std::string& by) {
        const auto* on_permit = std::get_if<visit::ActOnPermit>(&intent);
        if (on_permit == nullptr) {
            return;
        }
        ui::PermitView& permit = view_.at_hand->permit;
        const auto refusal = visit::permit::refusal(
            visit::permit::Wished{permit.rules, permit.powers, permit.state, on_permit->act, by, view_.now,
                                  view_.at_hand->structure->id});
        if (refusal) {
            view_.notice = view_.words.say(refusal->why);
            return;
        }
        permit.state = visit::permit::apply(permit.state, on_permit->act, by, view_.now);
        ++acts;
        refresh();
        if (!way_.back().checkpoint.empty()) {
            way_.pop_back();
        }
    }
    void refresh() {
        ui::AtHand& at_hand = *view_.at_hand;
        at_hand.permit =
            ui::permit_view(at_hand.permit.state, *at_hand.structure, view_.limits, view_.reg, view_.now);
        at_hand.band = visit::band(at_hand.permit.state, at_hand.permit.rules, view_.now);
    }

    ui::View view_;
    const model::Words& words_;
    bool glove_;
    ui::Rect screen_;
    std::unique_ptr<ui::Touch> touch_;
    ui::Drafts drafts_;
    std::vector<ui::Place> way_ = {ui::Place{}};
    bool changed_ = false;
};

/// A visit to QM-0101 up to the permit, a glass, and a finger on the permit's screens.
class PermitBench {
public:
    explicit PermitBench(const RigLook& look = {}) : rig_(look) {
        rig_.wish({ui::TakeOver{"P-016"}, ui::GoTo{{ui::Screen::Structure, "QM-0101", "", ""}},
                   ui::Mean{visit::OpenVisit{"QM-0101"}}});
        face_ = std::make_unique<PermitFace>(rig_.view(), rig_.tablet().words(), look.glove);
        finger_ = std::make_unique<Finger>(platform_, *face_);
        face_->go({ui::Screen::Permit, "QM-0101", "", ""});
        finger_->settle();
        name_ = std::to_string(look.glass.width_px) + "x" + std::to_string(look.glass.height_px) + "-" +
                std::to_string(look.glass.px_per_mm).substr(0, 4) + (look.glove ? "-glove" : "");
    }
    [[nodiscard]] PermitFace& face() { return *face_; }
    [[nodiscard]] Finger& finger() { return *finger_; }
    [[nodiscard]] const Glass& glass() { return platform_.glass(); }

    /// To a step's form, from wherever the finger is.
    void open(const std::string& step, const std::string& form) {
        face_->go({ui::Screen::Permit, "QM-0101", step, ""});
        finger_->wait(0.5);
        finger_->tap("permit/do/" + form);
    }
    void pick(const std::string& field, const std::string& option) {
        finger_->tap("form/" + field + "/choice/" + option);
    }
    void write(const std::string& field, const std::string& text, bool options = false) {
        if (options) {
            pick(field, "own_words");
        }
        finger_->type_text("form/" + field + "/text", text);
        finger_->tap("form/" + field + "/text/keep");
    }
    void number(const std::string& field, const std::string& keys) {
        finger_->type("form/" + field + "/pad", keys);
        finger_->tap("form/" + field + "/pad/keep");
    }
    void pin(const std::string& person, const std::string& digits = kBenchPin) {
        finger_->type("form/pin_" + person + "/pad", digits);
        finger_->tap("form/pin_" + person + "/pad/done");
    }
    void sign() {
        finger_->sign("form/signature/pad");
        finger_->tap("form/signature/keep");
    }
    void confirm() { finger_->tap("form/confirm"); }
    void hold() { finger_->hold("form/confirm"); }

    /// Where PICTURES names a folder, the screen as it is.
    void picture(const std::string& name) {
        if (const char* folder = std::getenv("PICTURES")) {
            platform_.frame(*face_);
            const Raster raster = paint_last_frame();
            write_png(std::filesystem::path(folder) / (name + "-" + name_ + ".png"), raster.width,
                      raster.height, raster.rgba);
        }
    }

private:
    ScreenRig rig_;
    StillPlatform& platform_ = rig_.platform(); // one context: the rig's own face is not drawn any more
    std::unique_ptr<PermitFace> face_;
    std::unique_ptr<Finger> finger_;
    std::string name_;
};

} // namespace crossarm::tests
