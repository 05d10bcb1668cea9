// The window on the real screen: the only file that knows GLFW and OpenGL.
#pragma once

#include "checklist/model/result.hpp"
#include "ui/touch/face.hpp"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace crossarm::ui {

struct WindowSettings {
    std::string title;
    int width_px = 1280;
    int height_px = 800;
    bool full_screen = false;
    std::optional<float> px_per_mm; ///< the person's own setting, 3 to 16
};

struct Picture {
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> rgba; ///< rows from the top
};

class Window {
public:
    /// Opens on X11 (also XWayland). Problem when there is no display, or only Wayland without X, where
    /// fingers would not arrive: the remedy says what to start.
    [[nodiscard]] static model::Result<std::unique_ptr<Window>> open(const WindowSettings& settings);
    ~Window();
    Window(const Window&) = delete;
    Window& operator=(const Window&) = delete;

    /// Shows `face`, drawing on demand, until the window is closed. A face must outlive the window's last
    /// use.
    void run(Face& face);
    /// Draws until the face is at rest, at most `most_frames`, and returns: for pictures.
    void settle(Face& face, int most_frames = 600);
    /// The frame drawn last. Call between frames, not from Face::draw().
    [[nodiscard]] Picture read_pixels() const;
    /// Frames drawn since it opened.
    [[nodiscard]] std::uint64_t frames() const;
    /// From any thread: draw again.
    static void wake();
    /// Asks run() to return.
    void close();

private:
    struct Inside;
    explicit Window(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> inside_;
};

} // namespace crossarm::ui
