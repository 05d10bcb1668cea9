#include "tests/support/still_platform.hpp"

#include <imgui.h>

#include <stdexcept>

namespace crossarm::tests {
namespace {

constexpr double kFrameS = 1.0 / 60;

} // namespace

StillPlatform::StillPlatform(const Glass& glass) : glass_(glass), context_(ImGui::CreateContext()) {
    ImGui::SetCurrentContext(context_);
    ImGui::GetIO().IniFilename = nullptr;
    ImGui::GetIO().LogFilename = nullptr;
}

StillPlatform::~StillPlatform() {
    ImGui::DestroyContext(context_);
}

void StillPlatform::show(ui::Face& face) {
    face.resized(glass_.width_px, glass_.height_px, glass_.px_per_mm);
}

void StillPlatform::frame(ui::Face& face) {
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = {static_cast<float>(glass_.width_px), static_cast<float>(glass_.height_px)};
    io.DeltaTime = static_cast<float>(kFrameS);
    ImGui::NewFrame();
    face.draw(now_s_);
    ImGui::Render();
    ++frames_;
}

void StillPlatform::settle(ui::Face& face, int most) {
    ui::Pacer pacer;
    pacer.event();
    for (int i = 0; i < most; ++i) {
        frame(face);
        pacer.drawn(face.moving(), face.next_due_s());
        if (pacer.owed() == 0 && !face.moving()) {
            return;
        }
        now_s_ += kFrameS;
    }
    throw std::runtime_error("the screen is never at rest: " + std::to_string(most) +
                             " frames were not enough");
}

} // namespace crossarm::tests
