// A colour on the screen, and how well one stands out against another.
#pragma once

#include <cstdint>

namespace crossarm::ui {

struct Colour {
    std::uint8_t red = 0;
    std::uint8_t green = 0;
    std::uint8_t blue = 0;

    bool operator==(const Colour&) const = default;
};

/// 0xRRGGBB as written in tables of colours.
[[nodiscard]] constexpr Colour rgb(std::uint32_t hex) {
    return {static_cast<std::uint8_t>(hex >> 16U), static_cast<std::uint8_t>(hex >> 8U),
            static_cast<std::uint8_t>(hex)};
}

/// The packed form that a draw list takes, fully opaque.
[[nodiscard]] std::uint32_t packed(Colour colour);

/// Relative luminance, 0 (black) to 1 (white). Source: WCAG 2.2, definition of relative luminance.
[[nodiscard]] double luminance(Colour colour);

/// The flare term of WCAG: a dim room.
inline constexpr double kRoomFlare = 0.05;
/// Full sun on the glass of an 800 to 1000 cd/m2 tablet (reflectance 1 %, 75 to 100 klx).
inline constexpr double kSunFlare = 0.3;

/// Contrast of two colours, 1 and upwards, never rounded up: (L1 + flare) / (L2 + flare). With kRoomFlare
/// this is the contrast ratio of WCAG 2.2; a larger flare adds the light that the glass throws back.
[[nodiscard]] double contrast(Colour one, Colour other, double flare = kRoomFlare);

} // namespace crossarm::ui
