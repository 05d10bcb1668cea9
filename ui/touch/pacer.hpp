// When to draw: three frames after every event, on while something moves, else not before a timer is due.
#pragma once

#include <limits>

namespace crossarm::ui {

/// One frame shows the press, one its outcome, one what only then could be measured.
inline constexpr int kFramesOwed = 3;
inline constexpr double kNever = std::numeric_limits<double>::infinity();

class Pacer {
public:
    /// Input, resize, exposure, or a worker's message arrived.
    void event() { owed_ = kFramesOwed; }
    /// Nobody sees the window: no frame is due until it is shown again, which is an event.
    void hidden(bool is_hidden);
    /// A frame was drawn; `moving` when it has not come to rest, `next_due_s` when the next change by itself
    /// is due (kNever for none), on the clock of due() and wait_s().
    void drawn(bool moving, double next_due_s);

    [[nodiscard]] bool due(double now_s) const;
    /// Seconds to wait for events before a frame is due: 0 when due now, kNever when only an event can
    /// bring one.
    [[nodiscard]] double wait_s(double now_s) const;
    /// Frames owed whatever happens.
    [[nodiscard]] int owed() const { return owed_; }

private:
    int owed_ = kFramesOwed;
    bool moving_ = false;
    bool hidden_ = false;
    double next_due_s_ = kNever;
};

} // namespace crossarm::ui
