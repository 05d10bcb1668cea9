// The gesture recogniser by itself: rows of time, place and touch, and what they mean.
#include "tests/support/catch.hpp"
#include "ui/touch/gesture.hpp"

#include <cmath>
#include <random>
#include <vector>

using namespace crossarm::ui;

namespace {

constexpr float kPxPerMm = 5.88F; // 10.1 in, 1280x800

Sample at(double time_s, float x_mm, float y_mm, bool down) {
    return {time_s, {x_mm * kPxPerMm, y_mm * kPxPerMm}, down};
}

/// What a row of samples came to.
struct Outcome {
    int taps = 0;
    float scrolled_mm = 0;
    Gesture::Phase phase = Gesture::Phase::Idle;
};

Outcome run(const std::vector<Sample>& samples) {
    Gesture gesture(kPxPerMm);
    Outcome outcome;
    for (const Sample& sample : samples) {
        const Gesture::Step step = gesture.step(sample);
        outcome.taps += step.tapped ? 1 : 0;
        outcome.scrolled_mm += step.moved.y / kPxPerMm;
    }
    outcome.phase = gesture.phase();
    return outcome;
}

/// A drag upwards at a steady speed, a sample every 10 ms, lifted `rest_s` after the last movement.
Gesture dragged(float mm_per_s, double rest_s, int steps = 20) {
    Gesture gesture(kPxPerMm);
    gesture.step(at(0, 50, 100, true));
    for (int i = 1; i <= steps; ++i) {
        gesture.step(at(0.01 * i, 50, 100 - mm_per_s * 0.01F * static_cast<float>(i), true));
    }
    const float end = 100 - mm_per_s * 0.01F * static_cast<float>(steps);
    gesture.step(at(0.01 * steps + rest_s, 50, end, false));
    return gesture;
}

} // namespace

TEST_CASE("what one finger means") {
    struct Case {
        const char* what;
        std::vector<Sample> samples;
        int taps;
        bool scrolls;
    };
    const Case cases[] = {
        {"down and up", {at(0, 10, 10, true), at(0.08, 10, 10, false)}, 1, false},
        {"down and up at the same instant", {at(0, 10, 10, true), at(0, 10, 10, false)}, 1, false},
        {"3.9 mm is a tap",
         {at(0, 10, 10, true), at(0.05, 10, 13.9F, true), at(0.1, 10, 13.9F, false)},
         1,
         false},
        {"4.1 mm is a drag",
         {at(0, 10, 10, true), at(0.05, 10, 14.1F, true), at(0.2, 10, 14.1F, false)},
         0,
         true},
        {"sideways too",
         {at(0, 10, 10, true), at(0.05, 14.1F, 10, true), at(0.2, 14.1F, 10, false)},
         0,
         false},
        {"a drag that comes back is no tap",
         {at(0, 10, 10, true), at(0.1, 10, 20, true), at(0.2, 10, 10, true), at(0.4, 10, 10, false)},
         0,
         false},
        {"movement seen only on lifting", {at(0, 10, 10, true), at(0.1, 10, 20, false)}, 0, true},
        {"a pointer passing over without a touch", {at(0, 10, 10, false), at(0.1, 30, 30, false)}, 0, false},
        {"lifting without having pressed", {at(0.1, 30, 30, false)}, 0, false},
        {"a long press is still a tap on what is no hold",
         {at(0, 10, 10, true), at(3, 10, 10, false)},
         1,
         false},
    };
    for (const Case& c : cases) {
        INFO(c.what);
        const Outcome outcome = run(c.samples);
        CHECK(outcome.taps == c.taps);
        CHECK((std::abs(outcome.scrolled_mm) > 0.01F) == c.scrolls);
    }
}

TEST_CASE("a drag flings above 15 mm/s, unless the finger rested before lifting") {
    CHECK(dragged(40, 0.01).phase() == Gesture::Phase::Fling);
    CHECK(dragged(16, 0.01, 40).phase() == Gesture::Phase::Fling);
    CHECK(dragged(14, 0.01, 40).phase() == Gesture::Phase::Idle);
    CHECK(dragged(40, 0.079).phase() == Gesture::Phase::Fling);
    CHECK(dragged(40, 0.081).phase() == Gesture::Phase::Idle);
    CHECK(dragged(400, 0.5).phase() == Gesture::Phase::Idle);
}

TEST_CASE("a fling goes as far with few frames as with many, and ends") {
    const auto distance_mm = [](int frames_per_s) {
        Gesture gesture = dragged(200, 0.0);
        float moved = 0;
        for (int i = 1; i < 100 * frames_per_s && gesture.phase() == Gesture::Phase::Fling; ++i) {
            moved += gesture.tick(0.2 + static_cast<double>(i) / frames_per_s).y / kPxPerMm;
        }
        CHECK(gesture.phase() == Gesture::Phase::Idle);
        return -moved;
    };
    // Speed v0 exp(-t/T) down to v1 covers (v0 - v1) T: (200 - 5) mm/s * 0.325 s, at the last frame's grain.
    CHECK(distance_mm(1000) == Approx(195 * 0.325).margin(0.1));
    CHECK(distance_mm(60) == Approx(195 * 0.325).margin(0.3));
    CHECK(distance_mm(5) == Approx(195 * 0.325).margin(1.6));
}

TEST_CASE("a touch during a fling stops it and is no tap, the next one is") {
    Gesture gesture = dragged(200, 0.0);
    REQUIRE(gesture.phase() == Gesture::Phase::Fling);
    CHECK(gesture.step(at(0.3, 50, 50, true)).pressed);
    CHECK(gesture.tick(0.4).y == 0);
    CHECK(gesture.held_s(0.4) == 0);
    CHECK_FALSE(gesture.step(at(0.4, 50, 50, false)).tapped);
    gesture.step(at(0.5, 50, 50, true));
    CHECK(gesture.step(at(0.6, 50, 50, false)).tapped);
}

TEST_CASE("a hold counts by the clock, forgives 5 mm and nothing more") {
    Gesture gesture(kPxPerMm);
    gesture.step(at(0, 50, 50, true));
    gesture.expect_hold();
    gesture.step(at(0.4, 54.9F, 50, true));
    CHECK(gesture.held_s(1.1) == Approx(1.1));
    gesture.step(at(1.15, 55.1F, 50, true));
    CHECK(gesture.held_s(1.3) == 0);
}

TEST_CASE("a finger that is ignored stays ignored until it lifts") {
    Gesture gesture(kPxPerMm);
    gesture.step(at(0, 50, 50, true));
    gesture.cancel();
    CHECK(gesture.step(at(0.1, 50, 90, true)).moved.y == 0);
    const Gesture::Step up = gesture.step(at(0.2, 50, 90, false));
    CHECK(up.lifted);
    CHECK_FALSE(up.tapped);
    CHECK(gesture.phase() == Gesture::Phase::Idle);
}

TEST_CASE("whatever the finger does, a press that moved beyond the slop is never a tap") {
    std::mt19937 random(20260314);
    std::uniform_real_distribution<float> place(0, 60);
    std::uniform_real_distribution<double> step_s(0, 0.2);
    Gesture gesture(kPxPerMm);
    double now = 0;
    bool down = false;
    Point start;
    float farthest = 0;
    for (int i = 0; i < 20000; ++i) {
        now += step_s(random);
        const Sample sample = at(now, place(random), place(random), random() % 3 != 0);
        const Gesture::Step step = gesture.step(sample);
        if (sample.down && !down) {
            start = sample.at;
            farthest = 0;
        }
        farthest = std::max(farthest, std::hypot(sample.at.x - start.x, sample.at.y - start.y));
        if (step.tapped) {
            CHECK(farthest <= kSlopMm * kPxPerMm);
        }
        CHECK(std::isfinite(gesture.tick(now).y));
        down = sample.down;
    }
}

TEST_CASE("a line that is drawn is no tap, scrolls nothing and flings nothing") {
    Gesture gesture(kPxPerMm);
    CHECK(gesture.step(at(0, 50, 50, true)).pressed);
    gesture.expect_draw();
    CHECK(gesture.phase() == Gesture::Phase::Draw);
    for (int i = 1; i <= 20; ++i) {
        const Gesture::Step step = gesture.step(at(0.01 * i, 50, 50 - 2.0F * static_cast<float>(i), true));
        CHECK(step.moved == Point{});
        CHECK(gesture.held_s(0.01 * i) == 0);
    }
    const Gesture::Step end = gesture.step(at(0.205, 50, 10, false));
    CHECK(end.lifted);
    CHECK(end.drew);
    CHECK_FALSE(end.tapped);
    CHECK(gesture.phase() == Gesture::Phase::Idle);
    CHECK(gesture.tick(0.3) == Point{});
    // A dot is a line too.
    gesture.step(at(1, 50, 50, true));
    gesture.expect_draw();
    CHECK(gesture.step(at(1.05, 50, 50, false)).drew);
    // A touch that stops a fling draws nothing.
    Gesture flung = dragged(200, 0);
    CHECK(flung.phase() == Gesture::Phase::Fling);
    flung.step(at(0.3, 50, 50, true));
    flung.expect_draw();
    CHECK(flung.phase() == Gesture::Phase::Press);
    CHECK_FALSE(flung.step(at(0.35, 50, 50, false)).drew);
}
