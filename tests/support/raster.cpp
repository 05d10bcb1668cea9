#include "tests/support/raster.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace crossarm::tests {
namespace {

struct Atlas {
    const unsigned char* alpha = nullptr;
    int width = 0;
    int height = 0;

    [[nodiscard]] float at(float u, float v) const {
        const float x = u * static_cast<float>(width) - 0.5F;
        const float y = v * static_cast<float>(height) - 0.5F;
        const auto left = static_cast<int>(std::floor(x));
        const auto top = static_cast<int>(std::floor(y));
        const float right_share = x - static_cast<float>(left);
        const float low_share = y - static_cast<float>(top);
        const auto pixel = [this](int px, int py) {
            px = std::clamp(px, 0, width - 1);
            py = std::clamp(py, 0, height - 1);
            return static_cast<float>(alpha[py * width + px]) / 255.0F;
        };
        const float upper = pixel(left, top) * (1 - right_share) + pixel(left + 1, top) * right_share;
        const float lower = pixel(left, top + 1) * (1 - right_share) + pixel(left + 1, top + 1) * right_share;
        return upper * (1 - low_share) + lower * low_share;
    }
};

float channel(ImU32 colour, int shift) {
    return static_cast<float>((colour >> shift) & 0xFFU);
}

float cross(const ImVec2& a, const ImVec2& b, float x, float y) {
    return (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x);
}

/// Whether a pixel centre exactly on this edge belongs to the triangle (else two neighbours paint it twice).
bool owns_edge(const ImVec2& a, const ImVec2& b) {
    return (a.y == b.y && b.x > a.x) || b.y < a.y;
}

void triangle(Raster& raster, const Atlas& atlas, const ImVec4& clip, const ImDrawVert* v[3]) {
    float area = cross(v[0]->pos, v[1]->pos, v[2]->pos.x, v[2]->pos.y);
    if (area == 0) {
        return;
    }
    if (area < 0) {
        std::swap(v[1], v[2]);
        area = -area;
    }
    const auto [low_x, high_x] = std::minmax({v[0]->pos.x, v[1]->pos.x, v[2]->pos.x});
    const auto [low_y, high_y] = std::minmax({v[0]->pos.y, v[1]->pos.y, v[2]->pos.y});
    const int left = std::max(static_cast<int>(std::floor(std::max(low_x, clip.x))), 0);
    const int right = std::min(static_cast<int>(std::ceil(std::min(high_x, clip.z))), raster.width);
    const int top = std::max(static_cast<int>(std::floor(std::max(low_y, clip.y))), 0);
    const int bottom = std::min(static_cast<int>(std::ceil(std::min(high_y, clip.w))), raster.height);
    for (int y = top; y < bottom; ++y) {
        for (int x = left; x < right; ++x) {
            const float px = static_cast<float>(x) + 0.5F;
            const float py = static_cast<float>(y) + 0.5F;
            float weight[3];
            bool inside = true;
            for (std::size_t i = 0; i < 3; ++i) {
                const ImVec2& a = v[(i + 1) % 3]->pos;
                const ImVec2& b = v[(i + 2) % 3]->pos;
                const float c = cross(a, b, px, py);
                inside = inside && (c > 0 || (c == 0 && owns_edge(a, b)));
                weight[i] = c / area;
            }
            if (!inside) {
                continue;
            }
            const auto mix = [&](auto get) {
                return weight[0] * get(*v[0]) + weight[1] * get(*v[1]) + weight[2] * get(*v[2]);
            };
            const float ink = atlas.at(mix([](const ImDrawVert& d) { return d.uv.x; }),
                                       mix([](const ImDrawVert& d) { return d.uv.y; }));
            const float alpha =
                ink * mix([](const ImDrawVert& d) { return channel(d.col, IM_COL32_A_SHIFT); }) / 255.0F;
            std::uint8_t* const out =
                &raster.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(raster.width) +
                                  static_cast<std::size_t>(x))];
            constexpr int kShifts[] = {IM_COL32_R_SHIFT, IM_COL32_G_SHIFT, IM_COL32_B_SHIFT};
            for (std::size_t i = 0; i < 3; ++i) {
                const float colour = mix([&](const ImDrawVert& d) { return channel(d.col, kShifts[i]); });
                out[i] = static_cast<std::uint8_t>(
                    std::lround(static_cast<float>(out[i]) * (1 - alpha) + colour * alpha));
            }
        }
    }
}

} // namespace

Raster paint(const ImDrawData& data, ImFontAtlas& atlas) {
    unsigned char* alpha = nullptr;
    Atlas letters;
    atlas.GetTexDataAsAlpha8(&alpha, &letters.width, &letters.height);
    letters.alpha = alpha;
    Raster raster;
    raster.width = static_cast<int>(data.DisplaySize.x);
    raster.height = static_cast<int>(data.DisplaySize.y);
    raster.rgba.assign(4 * static_cast<std::size_t>(raster.width) * static_cast<std::size_t>(raster.height),
                       255);
    for (int i = 0; i < data.CmdListsCount; ++i) {
        const ImDrawList& list = *data.CmdLists[i];
        for (const ImDrawCmd& command : list.CmdBuffer) {
            for (unsigned int e = 0; e + 2 < command.ElemCount; e += 3) {
                const ImDrawVert* corners[3];
                for (unsigned int c = 0; c < 3; ++c) {
                    const auto index = list.IdxBuffer[static_cast<int>(command.IdxOffset + e + c)];
                    corners[c] = &list.VtxBuffer[static_cast<int>(command.VtxOffset + index)];
                }
                triangle(raster, letters, command.ClipRect, corners);
            }
        }
    }
    return raster;
}

Raster paint_last_frame() {
    return paint(*ImGui::GetDrawData(), *ImGui::GetIO().Fonts);
}

} // namespace crossarm::tests
