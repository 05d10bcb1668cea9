// The real window on a real (virtual) display: it opens, draws what the screens draw, rests, and closes.
#include "ui/app/window.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/plain_face.hpp"
#include "ui/touch/button.hpp"

#include <algorithm>

using namespace crossarm;

namespace {

ui::WindowSettings small_window() {
    ui::WindowSettings settings;
    settings.title = "window test";
    settings.width_px = 640;
    settings.height_px = 400;
    settings.px_per_mm = 5.9F;
    return settings;
}

} // namespace

TEST_CASE("the window shows what a face draws, and draws no more once it is at rest") {
    int drawn = 0;
    tests::PlainFace face([&](ui::Touch& touch) {
        ++drawn;
        static_cast<void>(ui::button(touch, "ok", "Kept on this tablet"));
    });
    const auto opened = ui::Window::open(small_window());
    INFO((opened.ok() ? "" : model::to_text(opened.problem())));
    REQUIRE(opened.ok());
    ui::Window& window = **opened;
    window.settle(face);
    const ui::Picture picture = window.read_pixels();
    REQUIRE(picture.width == 640);
    REQUIRE(picture.height == 400);
    const auto dark = std::ranges::count_if(picture.rgba, [](std::uint8_t x) { return x < 64; });
    const auto light = std::ranges::count_if(picture.rgba, [](std::uint8_t x) { return x > 200; });
    CHECK(dark > 100);
    CHECK(light > 100'000);

    const std::uint64_t frames = window.frames();
    CHECK(frames > 0);
    CHECK(frames < 100);
    CHECK(static_cast<std::uint64_t>(drawn) == frames);
}

TEST_CASE("a window that is asked to close ends its run") {
    ui::Window* shown = nullptr;
    tests::PlainFace face([&](ui::Touch& touch) {
        static_cast<void>(ui::button(touch, "ok", "Kept on this tablet"));
        shown->close();
    });
    const auto opened = ui::Window::open(small_window());
    INFO((opened.ok() ? "" : model::to_text(opened.problem())));
    REQUIRE(opened.ok());
    shown = opened->get();
    shown->run(face);
    CHECK(shown->frames() >= 1);
}
