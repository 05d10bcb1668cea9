// The seven marks are told apart by their outline alone, in every size that is used.
#include "tests/support/catch.hpp"
#include "tests/support/finger.hpp"
#include "tests/support/plain_face.hpp"
#include "tests/support/raster.hpp"
#include "ui/look/marks.hpp"

#include <cmath>
#include <vector>

using namespace crossarm;
using namespace crossarm::tests;

namespace {

constexpr ui::Mark kMarks[] = {ui::Mark::Sound,  ui::Mark::Watch,      ui::Mark::Repair,   ui::Mark::Danger,
                               ui::Mark::Unseen, ui::Mark::OutOfReach, ui::Mark::NotFitted};
constexpr int kCell = 120;

/// Which pixels of each mark's cell are not the ground.
std::vector<std::vector<bool>> silhouettes(float side_px, float outline_px) {
    StillPlatform platform({.width_px = 7 * kCell, .height_px = kCell, .px_per_mm = 5.88F});
    PlainFace face([&](ui::Touch& touch) {
        for (std::size_t i = 0; i < std::size(kMarks); ++i) {
            const float x = kCell * (static_cast<float>(i) + 0.5F);
            ui::draw_mark(touch.list(), touch.theme(), kMarks[i], x, kCell / 2.0F, side_px, outline_px);
        }
    });
    const Finger finger(platform, face);
    const Raster raster = paint_last_frame();
    std::vector<std::vector<bool>> masks(std::size(kMarks));
    for (std::size_t i = 0; i < masks.size(); ++i) {
        for (int y = 0; y < kCell; ++y) {
            for (int x = 0; x < kCell; ++x) {
                const std::uint8_t* const p = raster.at(static_cast<int>(i) * kCell + x, y);
                masks[i].push_back(p[0] + p[1] + p[2] < 3 * 235);
            }
        }
    }
    return masks;
}

} // namespace

TEST_CASE("no two marks cover the same ground by more than 80 %") {
    for (const float side_mm : {6.0F, 8.0F, 16.0F}) {
        const auto masks = silhouettes(side_mm * 5.88F, 0.6F * 5.88F);
        for (std::size_t i = 0; i < masks.size(); ++i) {
            for (std::size_t j = i + 1; j < masks.size(); ++j) {
                int both = 0;
                int either = 0;
                for (std::size_t p = 0; p < masks[i].size(); ++p) {
                    both += masks[i][p] && masks[j][p] ? 1 : 0;
                    either += masks[i][p] || masks[j][p] ? 1 : 0;
                }
                INFO("marks " << i << " and " << j << " at " << side_mm << " mm");
                CHECK(either > 0);
                CHECK(both <= 0.8 * either);
            }
        }
    }
}

TEST_CASE("a mark stays inside its square, and Sound is not the largest") {
    const float side = 100;
    const auto masks = silhouettes(side, 6);
    std::vector<int> inked(masks.size());
    for (std::size_t i = 0; i < masks.size(); ++i) {
        for (int y = 0; y < kCell; ++y) {
            for (int x = 0; x < kCell; ++x) {
                if (!masks[i][static_cast<std::size_t>(y * kCell + x)]) {
                    continue;
                }
                ++inked[i];
                CHECK(std::abs(static_cast<float>(x) + 0.5F - kCell / 2.0F) <= side / 2 + 2);
                CHECK(std::abs(static_cast<float>(y) + 0.5F - kCell / 2.0F) <= side / 2 + 2);
            }
        }
    }
    for (std::size_t worse = 1; worse < 4; ++worse) {
        CHECK(inked[0] < inked[worse]);
    }
}

TEST_CASE("every grade has its mark, and what has no grade never has that of Sound") {
    CHECK(ui::mark_of(model::Grade::Sound) == ui::Mark::Sound);
    CHECK(ui::mark_of(model::Grade::Watch) == ui::Mark::Watch);
    CHECK(ui::mark_of(model::Grade::Repair) == ui::Mark::Repair);
    CHECK(ui::mark_of(model::Grade::Danger) == ui::Mark::Danger);
    for (std::size_t i = 0; i < std::size(kMarks); ++i) {
        for (std::size_t j = i + 1; j < std::size(kMarks); ++j) {
            CHECK(ui::word_key(kMarks[i]) != ui::word_key(kMarks[j]));
        }
    }
}
