// A picture of a frame without a graphics card, for people to look at.
#pragma once

#include <cstdint>
#include <vector>

struct ImDrawData;
struct ImFontAtlas;

namespace crossarm::tests {

struct Raster {
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> rgba; ///< rows from the top, four bytes a pixel

    [[nodiscard]] const std::uint8_t* at(int x, int y) const {
        return &rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                          static_cast<std::size_t>(x))];
    }
};

/// Paints the triangles of `data` over white: one sample a pixel, blended by alpha.
[[nodiscard]] Raster paint(const ImDrawData& data, ImFontAtlas& atlas);
/// The frame that was rendered last in the current ImGui context.
[[nodiscard]] Raster paint_last_frame();

} // namespace crossarm::tests
