#include "ui/touch/pacer.hpp"

#include <algorithm>

namespace crossarm::ui {

void Pacer::hidden(bool is_hidden) {
    hidden_ = is_hidden;
    if (!is_hidden) {
        event();
    }
}

void Pacer::drawn(bool moving, double next_due_s) {
    owed_ = std::max(0, owed_ - 1);
    moving_ = moving;
    next_due_s_ = next_due_s;
}

bool Pacer::due(double now_s) const {
    return !hidden_ && (owed_ > 0 || moving_ || now_s >= next_due_s_);
}

double Pacer::wait_s(double now_s) const {
    if (hidden_) {
        return kNever;
    }
    return due(now_s) ? 0.0 : next_due_s_ - now_s;
}

} // namespace crossarm::ui
