#include "ui/look/sizes.hpp"

#include <cmath>

namespace crossarm::ui {
namespace {

constexpr float kLeast = 3.0F;
constexpr float kMost = 16.0F;

bool believable(float px_per_mm) {
    return std::isfinite(px_per_mm) && px_per_mm >= kLeast && px_per_mm <= kMost;
}

} // namespace

float Sizes::mm(float millimetres) const {
    if (millimetres <= 0) {
        return std::round(millimetres * px_per_mm);
    }
    // Up, never down: a target must not fall short of its millimetres by rounding.
    return std::ceil(millimetres * px_per_mm - 0.001F);
}

float pixels_per_mm(std::optional<float> set, int monitor_px, int monitor_mm, float content_scale) {
    if (set && believable(*set)) {
        return *set;
    }
    if (monitor_px > 0 && monitor_mm > 0) {
        const float stated = static_cast<float>(monitor_px) / static_cast<float>(monitor_mm);
        if (believable(stated)) {
            return stated;
        }
    }
    const float scaled = content_scale * 96.0F / 25.4F;
    return believable(scaled) ? scaled : 96.0F / 25.4F;
}

} // namespace crossarm::ui
