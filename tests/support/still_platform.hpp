// A screen without a window: its frames are drawn into memory, its clock stands still until it is moved.
#pragma once

#include "ui/touch/face.hpp"

#include <cstdint>

struct ImGuiContext;

namespace crossarm::tests {

/// A tablet's glass. 10.1 in 1280x800 has 5.88 px/mm, 8 in 1280x800 has 7.43.
struct Glass {
    int width_px = 1280;
    int height_px = 800;
    float px_per_mm = 5.88F;
};

/// One Dear ImGui context, made current; only one lives at a time in a process.
class StillPlatform {
public:
    explicit StillPlatform(const Glass& glass = {});
    ~StillPlatform();
    StillPlatform(const StillPlatform&) = delete;
    StillPlatform& operator=(const StillPlatform&) = delete;

    /// Hands the glass to the face, which builds its letters. Before the first frame, and when it is turned.
    void show(ui::Face& face);
    void turn(const Glass& glass) { glass_ = glass; }

    /// Draws one frame now; the clock stays.
    void frame(ui::Face& face);
    /// Draws until the face is at rest, a 60th of a second a frame. At least three frames, as after an event.
    /// Throws std::runtime_error when it is not at rest after `most` frames.
    void settle(ui::Face& face, int most = 600);
    /// Moves the clock on without drawing.
    void pass(double seconds) { now_s_ += seconds; }

    [[nodiscard]] double now_s() const { return now_s_; }
    [[nodiscard]] const Glass& glass() const { return glass_; }
    [[nodiscard]] std::uint64_t frames() const { return frames_; }

private:
    Glass glass_;
    ImGuiContext* context_;
    double now_s_ = 100;
    std::uint64_t frames_ = 0;
};

} // namespace crossarm::tests
