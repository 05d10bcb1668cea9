#include "ui/look/colour.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::ui {

std::uint32_t packed(Colour colour) {
    return 0xFF000000U | static_cast<std::uint32_t>(colour.blue) << 16U |
           static_cast<std::uint32_t>(colour.green) << 8U | colour.red;
}

double luminance(Colour colour) {
    const auto linear = [](std::uint8_t value) {
        const double share = value / 255.0;
        return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
}

double contrast(Colour one, Colour other, double flare) {
    const double a = luminance(one);
    const double b = luminance(other);
    return (std::max(a, b) + flare) / (std::min(a, b) + flare);
}

} // namespace crossarm::ui
