// A screen at rest draws nothing: frames come after a touch, and once a minute for the clock.
#include "tests/support/catch.hpp"
#include "tests/support/screen_rig.hpp"
#include "tests/support/screen_states.hpp"

#include <algorithm>
#include <cmath>

using namespace crossarm;
using namespace crossarm::tests;

namespace {

/// Waits and draws as the window does, on the still clock.
class StillWindow {
public:
    explicit StillWindow(ScreenRig& rig) : rig_(rig) {}

    /// A finger comes down and lifts: what the window is told, nothing is drawn yet.
    void touch_at(ui::Point at) {
        for (const bool down : {true, false}) {
            rig_.face().touch().feed({rig_.platform().now_s(), at, down});
            pacer_.event();
            rig_.platform().pass(0.08);
        }
    }
    /// Frames drawn in the next `seconds` without a touch.
    int frames_in(double seconds) {
        int drawn = 0;
        const double end = rig_.platform().now_s() + seconds;
        while (rig_.platform().now_s() < end) {
            const double now = rig_.platform().now_s();
            if (pacer_.due(now)) {
                rig_.platform().frame(rig_.face());
                pacer_.drawn(rig_.face().moving(), rig_.face().next_due_s());
                ++drawn;
                rig_.platform().pass(1.0 / 60);
            } else {
                rig_.platform().pass(std::min(pacer_.wait_s(now), end - now));
            }
        }
        return drawn;
    }

private:
    ScreenRig& rig_;
    ui::Pacer pacer_;
};

} // namespace

TEST_CASE("after a touch at least three frames are drawn, then none") {
    ScreenRig rig;
    StillWindow window(rig);
    window.frames_in(1);
    CHECK(window.frames_in(5) == 0);
    window.touch_at(rig.finger().item("who").rect.centre());
    const int drawn = window.frames_in(1);
    CHECK(rig.session().place().screen == ui::Screen::People);
    CHECK(drawn >= ui::kFramesOwed);
    CHECK(drawn < 30);
    CHECK(window.frames_in(5) == 0);
}

TEST_CASE("no screen draws a frame in five idle seconds") {
    ScreenRig rig;
    VisitScript script(rig.tablet(), scenario_answers());
    int states = 0;
    show_every_state(script, [&](const std::string& state) {
        // Just after a minute has begun, so that the clock does not tick meanwhile.
        const double into_minute = static_cast<double>(rig.now().utc_ms % 60'000) / 1000;
        rig.platform().pass(60.5 - into_minute);
        StillWindow window(rig);
        INFO(state);
        CHECK(window.frames_in(5) < 60);
        CHECK(window.frames_in(5) == 0);
        ++states;
    });
    CHECK(states > 30);
}

TEST_CASE("an idle screen is drawn once a minute, when its clock goes on") {
    ScreenRig rig;
    StillWindow window(rig);
    window.frames_in(1);
    CHECK(window.frames_in(600) == 10);
}
