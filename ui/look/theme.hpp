// What each colour on the screen is for. Screens name a role, never a colour.
#pragma once

#include "ui/look/colour.hpp"

#include <array>
#include <span>

namespace crossarm::ui {

enum class Role {
    Ground,     ///< behind everything
    Surface,    ///< a row, a key, a plain button
    Pressed,    ///< the same under a finger
    Words,      ///< text on Ground, Surface and Pressed
    QuietWords, ///< second lines, units, hints
    Edge,       ///< border of what can be touched
    Main,       ///< ground of the act a screen is for
    MainPressed,
    MainWords,
    Chosen,   ///< thick edge of the chosen one of several
    Disabled, ///< ground of what cannot be touched now
    DisabledWords,
    Warning,    ///< words of a refusal or a caution on Ground
    LiveBand,   ///< treat as live
    PermitBand, ///< a permit is in force
    BandWords,
    Stop, ///< ground of the act that stops the work
    StopPressed,
    StopWords,
    SoundFill,
    WatchFill,
    RepairFill,
    DangerFill,
    MarkLine, ///< outline of every mark, sign inside the light ones
    MarkLineOnDanger,
    DrawingLine, ///< lines of the structure drawing
    DrawingFill, ///< bodies on the drawing
    Count
};

class Theme {
public:
    /// Dark words on a light ground: what stays readable in the sun. The only face so far.
    [[nodiscard]] static Theme sun();

    [[nodiscard]] Colour operator[](Role role) const { return colours_[static_cast<std::size_t>(role)]; }
    [[nodiscard]] std::uint32_t operator()(Role role) const { return packed((*this)[role]); }

private:
    std::array<Colour, static_cast<std::size_t>(Role::Count)> colours_{};
};

/// A colour laid on another somewhere in the program.
struct Pair {
    Role front;
    Role back;
    bool text; ///< words (7:1 asked), else a line or shape (3:1 asked)
};

/// Every pair that widgets and screens use. Whoever uses a new pair adds it here; a test holds them all.
[[nodiscard]] std::span<const Pair> used_pairs();

} // namespace crossarm::ui
