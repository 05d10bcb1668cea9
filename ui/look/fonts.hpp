// The letters: found among the system's fonts, sized by the height of their capitals.
#pragma once

#include "checklist/model/result.hpp"
#include "ui/look/sizes.hpp"

#include <array>
#include <filesystem>
#include <span>
#include <string>
#include <string_view>
#include <vector>

struct ImFont;
struct ImFontAtlas;

namespace crossarm::ui {

enum class Letter { Body, Value, Digit }; ///< 3.2 mm, 4.5 mm, 6 mm capitals; Digit holds ASCII and units only
enum class Weight { Regular, Bold };

/// Font files to draw with. `fallback` fills in what the main family lacks and may be empty.
struct FontFiles {
    std::filesystem::path regular;
    std::filesystem::path bold;
    std::filesystem::path fallback_regular;
    std::filesystem::path fallback_bold;
};

/// The best family under `roots`: B612, else DejaVu Sans, else any font file at all.
/// Problem when there is none: names the Debian package that brings one.
[[nodiscard]] model::Result<FontFiles> find_fonts(std::span<const std::filesystem::path> roots);
/// The same under the system's folders (/usr/share/fonts, /usr/local/share/fonts).
[[nodiscard]] model::Result<FontFiles> find_fonts();

/// Height of a capital H as a share of (ascent - descent), from the font's own outlines: an ImGui size of
/// capital / share gives capitals of that height. Problem: not a font, no H, no outlines.
[[nodiscard]] model::Result<float> capital_share(const std::filesystem::path& font_file);

/// Signs in a verdict's workings: the rules write these, not the words files.
inline constexpr std::string_view kWorkingsSigns = "√Σ×·÷±≤≥≈Δ²³°µΩ−′";

/// The built letters. Valid as long as the atlas it was built into.
class Fonts {
public:
    [[nodiscard]] ImFont* font(Letter letter, Weight weight = Weight::Regular) const;
    /// Size to hand to ImGui with that font, px.
    [[nodiscard]] float size(Letter letter, Weight weight = Weight::Regular) const;
    /// Characters of `text` that would show as the replacement sign, each once, in order of appearance.
    [[nodiscard]] std::vector<char32_t> cannot_draw(std::string_view text,
                                                    Letter letter = Letter::Body) const;

private:
    friend model::Result<Fonts> build_fonts(ImFontAtlas&, const FontFiles&, const Sizes&,
                                            std::span<const std::string_view>);
    std::array<ImFont*, 6> fonts_{};
    std::array<float, 6> sizes_{};
};

/// Clears `atlas` and fills it with three sizes in two weights, able to draw ASCII, Latin-1, the unit signs
/// and every character of `texts` below U+10000. Builds the picture on the CPU. Call between frames only.
[[nodiscard]] model::Result<Fonts> build_fonts(ImFontAtlas& atlas, const FontFiles& files, const Sizes& sizes,
                                               std::span<const std::string_view> texts);

} // namespace crossarm::ui
