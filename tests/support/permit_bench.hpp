// The permit's screens on a tablet on a bench, for walking a permit by finger and for looking at it.
#pragma once

#include "tests/support/form_walker.hpp"
#include "tests/support/png.hpp"
#include "tests/support/raster.hpp"
#include "tests/support/screen_rig.hpp"
#include "tests/support/screen_states.hpp"

#include <cstdlib>

namespace crossarm::tests {

/// A visit to QM-0101 up to the briefing, a glass, and a finger.
class PermitBench {
public:
    explicit PermitBench(const RigLook& look = {})
        : rig_(look), script_(rig_.tablet(), scenario_answers()), forms_(rig_.finger(), rig_.session()) {
        script_.open();
        script_.finish("arrive");
        script_.answer("brief.crew", "P-003 P-007 P-011");
        hand_to("P-016");
        name_ = std::to_string(look.glass.width_px) + "x" + std::to_string(look.glass.height_px) + "-" +
                std::to_string(look.glass.px_per_mm).substr(0, 4) + (look.glove ? "-glove" : "");
    }
    [[nodiscard]] ScreenRig& rig() { return rig_; }
    [[nodiscard]] Finger& finger() { return rig_.finger(); }
    [[nodiscard]] const Glass& glass() { return rig_.platform().glass(); }
    [[nodiscard]] const visit::permit::State& permit() { return rig_.view().at_hand->permit.state; }
    /// Kept in the store, of the whole visit.
    [[nodiscard]] std::size_t entries() {
        const auto kept = rig_.tablet().store().entries(rig_.view().at_hand->visit);
        return kept ? kept->size() : 0;
    }
    void hand_to(const std::string& person) { rig_.wish({taken_by(person)}); }
    void go(const ui::Place& place) {
        rig_.wish({ui::GoTo{place}});
        finger().wait(0.5);
    }
    void go(ui::Screen screen, const std::string& step = "", const std::string& form = "") {
        go({screen, VisitScript::kStructure, step, form});
    }
    /// What is left of the briefing's stage, without the finger.
    void finish_briefing() {
        script_.finish("brief");
        hand_to("P-016");
    }

    /// To a step's form, from wherever the finger is.
    void open(const std::string& step, const std::string& form) {
        go(ui::Screen::Permit, step);
        finger().tap("permit/do/" + form);
    }
    void pick(const std::string& field, const std::string& option) {
        finger().tap("form/" + field + "/choice/" + option);
    }
    void write(const std::string& field, const std::string& text, bool options = false) {
        if (options) {
            pick(field, "own_words");
        }
        finger().type_text("form/" + field + "/text", text);
        finger().tap("form/" + field + "/text/keep");
    }
    void number(const std::string& field, const std::string& keys) {
        finger().type("form/" + field + "/pad", keys);
        finger().tap("form/" + field + "/pad/keep");
    }
    void pin(const std::string& person, const std::string& digits = kTestPin) {
        forms_.pin("pin_" + person, digits);
    }
    void sign() {
        finger().sign("form/signature/pad");
        finger().tap("form/signature/keep");
    }
    void confirm() { finger().tap("form/confirm"); }
    void hold() { finger().hold("form/confirm"); }

    /// Where PICTURES names a folder, the screen as it is.
    void picture(const std::string& name) {
        if (const char* folder = std::getenv("PICTURES")) {
            rig_.platform().frame(rig_.face());
            const Raster raster = paint_last_frame();
            write_png(std::filesystem::path(folder) / (name + "-" + name_ + ".png"), raster.width,
                      raster.height, raster.rgba);
        }
    }

private:
    ScreenRig rig_;
    VisitScript script_;
    FormWalker forms_;
    std::string name_;
};

} // namespace crossarm::tests
