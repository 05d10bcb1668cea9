#include "ui/touch/gesture.hpp"

#include <cmath>

namespace crossarm::ui {
namespace {

constexpr double kSpeedWindowS = 0.1;

float length(Point p) {
    return std::hypot(p.x, p.y);
}

Point between(Point from, Point to) {
    return {to.x - from.x, to.y - from.y};
}

} // namespace

Gesture::Step Gesture::step(const Sample& sample) {
    Step result;
    if (sample.down && !down_) {
        down_ = true;
        result.pressed = true;
        // A touch that stops a fling is meant for the list, not for what happens to run by under it.
        may_tap_ = phase_ != Phase::Fling;
        phase_ = Phase::Press;
        slip_mm_ = kSlopMm;
        start_ = last_ = sample.at;
        start_s_ = sample.time_s;
        move_count_ = 0;
        note_move(sample);
        return result;
    }
    if (!down_) {
        return result;
    }
    const Point moved = between(last_, sample.at);
    if (length(moved) > 0) {
        if (phase_ == Phase::Press && length(between(start_, sample.at)) > slip_mm_ * px_per_mm_) {
            phase_ = Phase::Drag;
        }
        if (phase_ == Phase::Drag) {
            result.moved = moved;
        }
        note_move(sample);
        last_ = sample.at;
    }
    if (sample.down) {
        return result;
    }
    down_ = false;
    result.lifted = true;
    result.tapped = phase_ == Phase::Press && may_tap_;
    result.drew = phase_ == Phase::Draw;
    const Point speed = phase_ == Phase::Drag ? speed_at(sample.time_s) : Point{};
    phase_ = Phase::Idle;
    if (length(speed) > kFlingMmPerS * px_per_mm_) {
        phase_ = Phase::Fling;
        fling_speed_ = speed;
        fling_from_s_ = fling_to_s_ = sample.time_s;
    }
    return result;
}

Point Gesture::tick(double now_s) {
    if (phase_ != Phase::Fling || now_s <= fling_to_s_) {
        return {};
    }
    // The distance is that of the whole time passed, so that few frames go as far as many.
    const auto left = [this](double t) { return std::exp(-(t - fling_from_s_) / kDecayS); };
    const auto share = static_cast<float>(kDecayS * (left(fling_to_s_) - left(now_s)));
    fling_to_s_ = now_s;
    if (length(fling_speed_) * static_cast<float>(left(now_s)) < kRestMmPerS * px_per_mm_) {
        phase_ = Phase::Idle;
    }
    return {fling_speed_.x * share, fling_speed_.y * share};
}

void Gesture::expect_draw() {
    if (phase_ == Phase::Press && may_tap_) {
        phase_ = Phase::Draw;
    }
}

void Gesture::cancel() {
    phase_ = down_ ? Phase::Ignored : Phase::Idle;
}

double Gesture::held_s(double now_s) const {
    return phase_ == Phase::Press && may_tap_ ? now_s - start_s_ : 0.0;
}

void Gesture::note_move(const Sample& sample) {
    moves_[move_count_ % moves_.size()] = sample;
    ++move_count_;
}

Point Gesture::speed_at(double now_s) const {
    if (move_count_ < 2) {
        return {};
    }
    const Sample& newest = moves_[(move_count_ - 1) % moves_.size()];
    if (now_s - newest.time_s >= kRestedS) {
        return {};
    }
    const std::size_t kept = std::min(move_count_, moves_.size());
    const Sample* oldest = &newest;
    for (std::size_t back = 1; back <= kept; ++back) {
        const Sample& move = moves_[(move_count_ - back) % moves_.size()];
        if (now_s - move.time_s > kSpeedWindowS) {
            break;
        }
        oldest = &move;
    }
    const double time = newest.time_s - oldest->time_s;
    if (time <= 0) {
        return {};
    }
    const Point way = between(oldest->at, newest.at);
    return {static_cast<float>(way.x / time), static_cast<float>(way.y / time)};
}

} // namespace crossarm::ui
