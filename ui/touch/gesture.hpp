// What one finger means: a tap, a drag with its fling, a hold, or a line drawn. Knows no widget and no clock
// of its own.
#pragma once

#include "ui/touch/rect.hpp"

#include <array>
#include <cstddef>

namespace crossarm::ui {

/// The pointer at one moment. `time_s` comes from a clock that never goes back.
struct Sample {
    double time_s = 0;
    Point at; ///< px
    bool down = false;
};

// Lengths in mm of the screen, times in s. Common practice, no source, except where named.
inline constexpr float kSlopMm = 4.0F;       ///< movement that turns a press into a drag
inline constexpr float kHoldSlipMm = 5.0F;   ///< movement a hold forgives
inline constexpr float kFlingMmPerS = 15.0F; ///< slower than this the list stops with the finger
inline constexpr float kRestMmPerS = 5.0F;   ///< a fling slower than this has ended
inline constexpr double kRestedS = 0.080;    ///< a finger that rested so long before lifting flings nothing
inline constexpr double kDecayS = 0.325;     ///< speed falls by exp(-t / this)
inline constexpr double kHoldS = 1.2;        ///< time to hold for an act that cannot be undone
inline constexpr double kAgainS = 0.3;       ///< a second tap on the same item within this is the same tap
inline constexpr double kNewScreenS = 0.3;   ///< touches ignored after a screen change

class Gesture {
public:
    enum class Phase { Idle, Press, Drag, Draw, Fling, Ignored };

    explicit Gesture(float px_per_mm) : px_per_mm_(px_per_mm) {}

    /// What a sample brought about.
    struct Step {
        bool pressed = false; ///< a finger came down
        bool tapped = false;  ///< it went up, having stayed a press that may be a tap
        bool lifted = false;  ///< it went up, tap or not
        bool drew = false;    ///< it went up at the end of a line
        Point moved;          ///< px to scroll by since the last step
    };

    /// The pointer moved, came down or went up.
    Step step(const Sample& sample);
    /// Time passed without the pointer: px that a fling moved on since the last step or tick.
    Point tick(double now_s);

    /// This press is on something to be held: it forgives kHoldSlipMm instead of kSlopMm.
    void expect_hold() { slip_mm_ = kHoldSlipMm; }
    /// This press begins a line: until it lifts it is no tap, scrolls nothing and flings nothing. Not so when
    /// it stopped a fling: that was meant for the list.
    void expect_draw();
    /// Ignore this finger until it lifts; stops a fling.
    void cancel();

    [[nodiscard]] Phase phase() const { return phase_; }
    [[nodiscard]] Point pressed_at() const { return start_; }
    [[nodiscard]] double pressed_at_s() const { return start_s_; }
    [[nodiscard]] Point last_at() const { return last_; }
    /// Seconds the finger has been holding still; 0 unless in Press.
    [[nodiscard]] double held_s(double now_s) const;

private:
    [[nodiscard]] Point speed_at(double now_s) const; // px/s
    void note_move(const Sample& sample);

    float px_per_mm_;
    float slip_mm_ = kSlopMm;
    Phase phase_ = Phase::Idle;
    bool may_tap_ = true;
    Point start_;
    double start_s_ = 0;
    Point last_;
    bool down_ = false;
    std::array<Sample, 8> moves_{};
    std::size_t move_count_ = 0;
    Point fling_speed_; // px/s when it began
    double fling_from_s_ = 0;
    double fling_to_s_ = 0; // moved up to here already
};

} // namespace crossarm::ui
