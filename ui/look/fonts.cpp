#include "ui/look/fonts.hpp"

#include "ui/look/utf8.hpp"

#include <imgui.h>
#include <imgui_freetype.h>

#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_OUTLINE_H

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace crossarm::ui {
namespace {

namespace fs = std::filesystem;

// Signs of units and numbers that readings are shown with, whatever the words files hold.
constexpr std::string_view kSigns = "°Ωµμ−≤≥²³·×±‰Δ√→–—‹›“”‘’…⟦⟧\u00A0\u202F";
constexpr float kLargestTexture = 4096;

/// A font file opened with FreeType, for as long as this lives.
class OpenFace {
public:
    explicit OpenFace(const fs::path& file) {
        if (FT_Init_FreeType(&library_) != 0) {
            library_ = nullptr;
            return;
        }
        if (FT_New_Face(library_, file.c_str(), 0, &face_) != 0) {
            face_ = nullptr;
        }
    }
    ~OpenFace() {
        if (face_ != nullptr) {
            FT_Done_Face(face_);
        }
        if (library_ != nullptr) {
            FT_Done_FreeType(library_);
        }
    }
    OpenFace(const OpenFace&) = delete;
    OpenFace& operator=(const OpenFace&) = delete;

    [[nodiscard]] FT_Face face() const { return face_; }
    [[nodiscard]] bool has(char32_t character) const {
        return face_ != nullptr && FT_Get_Char_Index(face_, character) != 0;
    }

private:
    FT_Library library_ = nullptr;
    FT_Face face_ = nullptr;
};

std::set<char32_t> basic_characters(bool digits_only) {
    std::set<char32_t> wanted;
    for (char32_t c = 0x20; c < 0x7F; ++c) {
        wanted.insert(c);
    }
    for (char32_t c = 0xA0; c <= 0xFF && !digits_only; ++c) {
        wanted.insert(c);
    }
    for (std::size_t at = 0; at < kSigns.size();) {
        wanted.insert(next_character(kSigns, at));
    }
    wanted.insert(0xFFFD);
    return wanted;
}

std::vector<ImWchar> ranges_of(const std::set<char32_t>& characters, const OpenFace& face) {
    std::vector<ImWchar> ranges;
    for (const char32_t c : characters) {
        if (c > 0xFFFF || !face.has(c)) {
            continue;
        }
        const auto code = static_cast<ImWchar>(c);
        if (!ranges.empty() && ranges.back() + 1 == code) {
            ranges.back() = code;
        } else {
            ranges.push_back(code);
            ranges.push_back(code);
        }
    }
    ranges.push_back(0);
    return ranges;
}

std::size_t place(Letter letter, Weight weight) {
    return static_cast<std::size_t>(letter) * 2 + static_cast<std::size_t>(weight);
}

model::Problem unusable(const fs::path& file, std::string what) {
    return {file.string(), std::move(what), "install the package fonts-b612 or fonts-dejavu-core"};
}

} // namespace

model::Result<FontFiles> find_fonts(std::span<const fs::path> roots) {
    std::map<std::string, fs::path> by_name; // sorted, so that the same system always gives the same font
    for (const auto& root : roots) {
        std::error_code error;
        auto it =
            fs::recursive_directory_iterator(root, fs::directory_options::skip_permission_denied, error);
        while (!error && it != fs::recursive_directory_iterator()) {
            const fs::path& path = it->path();
            if (path.extension() == ".otf" || path.extension() == ".ttf") {
                by_name.emplace(path.stem().string(), path);
            }
            it.increment(error);
        }
    }
    const auto named = [&by_name](const char* name) {
        const auto it = by_name.find(name);
        return it == by_name.end() ? fs::path() : it->second;
    };
    FontFiles files{named("B612-Regular"), named("B612-Bold"), named("DejaVuSans"), named("DejaVuSans-Bold")};
    if (files.regular.empty()) {
        files.regular = files.fallback_regular;
        files.bold = files.fallback_bold;
    }
    if (files.regular.empty()) {
        for (const auto& [name, path] : by_name) {
            if (capital_share(path).ok()) {
                files.regular = path;
                break;
            }
        }
    }
    if (files.regular.empty()) {
        return model::Problem{"fonts", "no font was found on this system",
                              "install the package fonts-b612 or fonts-dejavu-core"};
    }
    if (files.bold.empty()) {
        files.bold = files.regular;
    }
    return files;
}

model::Result<FontFiles> find_fonts() {
    const fs::path roots[] = {"/usr/share/fonts", "/usr/local/share/fonts"};
    return find_fonts(roots);
}

model::Result<float> capital_share(const fs::path& font_file) {
    const OpenFace open(font_file);
    const FT_Face face = open.face();
    if (face == nullptr) {
        return unusable(font_file, "this is not a font that can be read");
    }
    const FT_UInt capital = FT_Get_Char_Index(face, 'H');
    if (capital == 0 || FT_Load_Glyph(face, capital, FT_LOAD_NO_SCALE) != 0 ||
        face->glyph->format != FT_GLYPH_FORMAT_OUTLINE) {
        return unusable(font_file, "this font has no outline of a capital H");
    }
    FT_BBox box;
    FT_Outline_Get_CBox(&face->glyph->outline, &box);
    const auto line = static_cast<float>(face->ascender - face->descender);
    const float share = static_cast<float>(box.yMax) / line;
    if (!std::isfinite(share) || share < 0.2F || share > 1.0F) {
        return unusable(font_file, "the measures of this font make no sense");
    }
    return share;
}

ImFont* Fonts::font(Letter letter, Weight weight) const {
    return fonts_[place(letter, weight)];
}

float Fonts::size(Letter letter, Weight weight) const {
    return sizes_[place(letter, weight)];
}

std::vector<char32_t> Fonts::cannot_draw(std::string_view text, Letter letter) const {
    std::vector<char32_t> missing;
    for (std::size_t at = 0; at < text.size();) {
        const char32_t c = next_character(text, at);
        if (c < 0x20) {
            continue;
        }
        const bool drawn =
            c <= 0xFFFF && font(letter)->FindGlyphNoFallback(static_cast<ImWchar>(c)) != nullptr &&
            font(letter, Weight::Bold)->FindGlyphNoFallback(static_cast<ImWchar>(c)) != nullptr;
        if (!drawn && std::ranges::find(missing, c) == missing.end()) {
            missing.push_back(c);
        }
    }
    return missing;
}

model::Result<Fonts> build_fonts(ImFontAtlas& atlas, const FontFiles& files, const Sizes& sizes,
                                 std::span<const std::string_view> texts) {
    atlas.Clear();
    atlas.FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
    atlas.FontBuilderFlags = ImGuiFreeTypeBuilderFlags_LightHinting;
    atlas.Flags |= ImFontAtlasFlags_NoMouseCursors | ImFontAtlasFlags_NoBakedLines;

    std::set<char32_t> all = basic_characters(/*digits_only=*/false);
    for (const auto text : texts) {
        for (std::size_t at = 0; at < text.size();) {
            const char32_t c = next_character(text, at);
            if (c >= 0x20) {
                all.insert(c);
            }
        }
    }
    const std::set<char32_t> few = basic_characters(/*digits_only=*/true);

    // The atlas keeps pointers to the ranges until it is built.
    std::vector<std::vector<ImWchar>> kept;
    kept.reserve(24);
    Fonts fonts;
    const float capitals[] = {sizes.body_capital(), sizes.value_capital(), sizes.digit_capital()};
    for (std::size_t letter = 0; letter < 3; ++letter) {
        const std::set<char32_t>& wanted = letter == 2 ? few : all;
        for (std::size_t weight = 0; weight < 2; ++weight) {
            const fs::path& main = weight == 0 ? files.regular : files.bold;
            const fs::path& fallback = weight == 0 ? files.fallback_regular : files.fallback_bold;
            const auto share = capital_share(main);
            if (!share.ok()) {
                return share.problem();
            }
            const float size = std::ceil(capitals[letter] / *share);
            const OpenFace face(main);
            kept.push_back(ranges_of(wanted, face));
            ImFont* const font = atlas.AddFontFromFileTTF(main.c_str(), size, nullptr, kept.back().data());
            if (font == nullptr) {
                return unusable(main, "this font could not be loaded");
            }
            fonts.fonts_[letter * 2 + weight] = font;
            fonts.sizes_[letter * 2 + weight] = size;

            std::set<char32_t> missing;
            std::ranges::copy_if(wanted, std::inserter(missing, missing.end()),
                                 [&face](char32_t c) { return !face.has(c); });
            if (missing.empty() || fallback.empty() || fallback == main) {
                continue;
            }
            const auto fallback_share = capital_share(fallback);
            if (!fallback_share.ok()) {
                continue;
            }
            kept.push_back(ranges_of(missing, OpenFace(fallback)));
            if (kept.back().size() > 1) {
                ImFontConfig merge;
                merge.MergeMode = true;
                atlas.AddFontFromFileTTF(fallback.c_str(), std::ceil(capitals[letter] / *fallback_share),
                                         &merge, kept.back().data());
            }
        }
    }
    if (!atlas.Build()) {
        return unusable(files.regular, "its letters could not be drawn");
    }
    if (static_cast<float>(atlas.TexHeight) > kLargestTexture) {
        return unusable(files.regular, "its letters do not fit into the screen's memory at this size");
    }
    return fonts;
}

} // namespace crossarm::ui
