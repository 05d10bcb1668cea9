// Letters are as high as they have to be, and every sign that is shown can be drawn.
#include "tests/support/catch.hpp"
#include "tests/support/raster.hpp"
#include "tests/support/still_platform.hpp"
#include "ui/look/fonts.hpp"

#include <imgui.h>

#include <filesystem>
#include <fstream>

using namespace crossarm;
using namespace crossarm::ui;
namespace fs = std::filesystem;

namespace {

fs::path empty_folder(const char* name) {
    const fs::path folder = fs::temp_directory_path() / ("crossarm_fonts_" + std::string(name));
    fs::remove_all(folder);
    fs::create_directories(folder);
    return folder;
}

} // namespace

TEST_CASE("a font of this system is found and its capitals are as high as asked for") {
    const tests::StillPlatform platform;
    const auto files = find_fonts();
    REQUIRE(files.ok());
    for (const float px_per_mm : {5.88F, 7.43F, 11.14F}) {
        for (const float scale : {1.0F, 1.5F}) {
            const Sizes sizes{px_per_mm, false, scale};
            ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
            const auto fonts = build_fonts(atlas, *files, sizes, {});
            REQUIRE(fonts.ok());
            CHECK(atlas.TexWidth <= 4096);
            CHECK(atlas.TexHeight <= 4096);
            const float capitals[] = {3.2F, 4.5F, 6.0F};
            for (const Letter letter : {Letter::Body, Letter::Value, Letter::Digit}) {
                for (const Weight weight : {Weight::Regular, Weight::Bold}) {
                    // The height of the picture of H, not of the size that was asked for.
                    const ImFontGlyph* const glyph = fonts->font(letter, weight)->FindGlyphNoFallback('H');
                    REQUIRE(glyph != nullptr);
                    const float height_mm = (glyph->Y1 - glyph->Y0) / px_per_mm;
                    const float wished_mm = capitals[static_cast<int>(letter)] * scale;
                    INFO(wished_mm << " mm at " << px_per_mm << " px/mm");
                    CHECK(height_mm >= wished_mm - 0.5F / px_per_mm);
                    CHECK(height_mm <= wished_mm + 3.0F / px_per_mm);
                }
            }
        }
    }
}

TEST_CASE("units and signs can be drawn, in the fonts for digits too") {
    const tests::StillPlatform platform;
    const auto files = find_fonts();
    REQUIRE(files.ok());
    const std::string_view texts[] = {"Ωμέγα", "нет"};
    const auto fonts = build_fonts(*ImGui::GetIO().Fonts, *files, {}, texts);
    REQUIRE(fonts.ok());
    const std::string_view units = "−12.5 °C, 47.5\u00A0kV, MΩ, µΩ, mm², g/m³, ≤ ≥ ± ·";
    CHECK(fonts->cannot_draw(units).empty());
    CHECK(fonts->cannot_draw(units, Letter::Digit).empty());
    CHECK(fonts->cannot_draw("Ωμέγα нет Größe").empty());
    // Letters that nobody announced, and a script that is not drawn at all.
    CHECK(fonts->cannot_draw("да, क, क") == std::vector<char32_t>{U'д', U'а', U'क'});
    CHECK(fonts->cannot_draw("a\n\xFF").empty()); // a broken byte shows as the replacement sign, which exists
}

TEST_CASE("no fonts, or files that are none, give an error that names the remedy") {
    const fs::path folder = empty_folder("none");
    const fs::path roots[] = {folder, folder / "missing"};
    auto files = find_fonts(roots);
    REQUIRE_FALSE(files.ok());
    CHECK(model::to_text(files.problem()) ==
          "fonts: no font was found on this system; install the package fonts-b612 or fonts-dejavu-core");

    std::ofstream(folder / "Broken.ttf") << "this is no font";
    files = find_fonts(roots);
    CHECK_FALSE(files.ok());
    CHECK_FALSE(capital_share(folder / "Broken.ttf").ok());
    CHECK(capital_share(folder / "Broken.ttf").problem().what == "this is not a font that can be read");
    fs::remove_all(folder);
}

TEST_CASE("where only one odd font is installed, that one serves") {
    const auto system = find_fonts();
    REQUIRE(system.ok());
    const fs::path folder = empty_folder("odd");
    std::ofstream(folder / "Another.ttf") << "not a font, comes first in the alphabet";
    fs::copy_file(system->regular, folder / ("Odd" + system->regular.extension().string()));
    const fs::path roots[] = {folder};
    const auto files = find_fonts(roots);
    REQUIRE(files.ok());
    CHECK(files->regular.stem() == "Odd");
    CHECK(files->bold == files->regular);
    const tests::StillPlatform platform;
    CHECK(build_fonts(*ImGui::GetIO().Fonts, *files, {}, {}).ok());
    fs::remove_all(folder);
}
