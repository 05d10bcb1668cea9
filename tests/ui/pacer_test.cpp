// Frames are drawn when something happened or moves, and at no other time.
#include "tests/support/catch.hpp"
#include "ui/touch/pacer.hpp"

using namespace crossarm::ui;

namespace {

/// Frames drawn from `from_s` to `to_s` by a loop that looks at the clock every millisecond.
int frames(Pacer& pacer, double from_s, double to_s, double next_due_s = kNever) {
    int drawn = 0;
    for (int ms = 0; from_s + ms * 0.001 < to_s; ++ms) {
        const double now = from_s + ms * 0.001;
        if (pacer.due(now)) {
            ++drawn;
            pacer.drawn(/*moving=*/false, next_due_s > now ? next_due_s : kNever);
        }
    }
    return drawn;
}

} // namespace

TEST_CASE("three frames after an event, then none") {
    Pacer pacer;
    CHECK(frames(pacer, 0, 1) == 3); // the first ones, after opening
    CHECK(frames(pacer, 1, 61) == 0);
    CHECK(pacer.wait_s(61) == kNever);
    pacer.event();
    CHECK(pacer.wait_s(61) == 0);
    CHECK(frames(pacer, 61, 62) == 3);
    pacer.event();
    pacer.drawn(false, kNever);
    pacer.event();
    CHECK(pacer.owed() == 3);
}

TEST_CASE("a timer brings one frame when it is due and none before") {
    Pacer pacer;
    frames(pacer, 0, 1, 60.0);
    CHECK(pacer.wait_s(10) == Approx(50));
    CHECK(frames(pacer, 1, 59.9, 60.0) == 0);
    CHECK(frames(pacer, 59.9, 119, 60.0) == 1);
}

TEST_CASE("what moves keeps the frames coming until it rests") {
    Pacer pacer;
    frames(pacer, 0, 1);
    pacer.event();
    for (int i = 0; i < 50; ++i) {
        CHECK(pacer.due(2));
        pacer.drawn(/*moving=*/true, kNever);
    }
    pacer.drawn(/*moving=*/false, kNever);
    CHECK_FALSE(pacer.due(2));
}

TEST_CASE("nothing is drawn while nobody sees the window") {
    Pacer pacer;
    pacer.hidden(true);
    pacer.event();
    CHECK_FALSE(pacer.due(5));
    CHECK(pacer.wait_s(5) == kNever);
    pacer.hidden(false);
    CHECK(frames(pacer, 5, 6) == 3);
}
