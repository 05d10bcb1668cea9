// Millimetres of the real screen, and the pixels they take: the only place where the two meet.
#pragma once

#include <optional>

namespace crossarm::ui {

/// How large things are on this screen. Every length on the screen is asked for in millimetres.
/// Sources of the defaults: target and gap, ANSI/AAMI HE75:2009 18.3.2.2.2 (13 mm, 6 mm apart, centres 20 mm
/// apart at the least); height of capitals, ISO 9241-303 (22 minutes of arc: 3.2 mm at 500 mm, 4.5 mm at
/// 700 mm). The rest is common practice, no source.
struct Sizes {
    float px_per_mm = 5.88F; ///< pixels in one millimetre, 3 to 16
    bool glove = false;      ///< larger targets for gloved hands
    float text_scale = 1.0F; ///< 1.0, 1.25 or 1.5 of the normal text size

    bool operator==(const Sizes&) const = default;

    /// Millimetres to whole pixels; never 0 for a length above 0.
    [[nodiscard]] float mm(float millimetres) const;

    [[nodiscard]] float target() const {
        return mm(glove ? 20.0F : 15.0F);
    } ///< least side of what is touched
    [[nodiscard]] float gap() const { return mm(glove ? 4.0F : 5.0F); } ///< between two targets
    [[nodiscard]] float pad() const { return mm(2.5F); }                ///< between an edge and its text
    [[nodiscard]] float margin() const { return mm(4.0F); }             ///< round a screen
    [[nodiscard]] float line() const { return mm(0.5F); }               ///< thickness of a border
    [[nodiscard]] float outline() const { return mm(0.6F); }            ///< outline of a grade mark
    [[nodiscard]] float mark() const { return mm(8.0F); }               ///< grade mark beside a word
    /// Acts that cannot be undone.
    [[nodiscard]] float grave_height() const { return mm(24.0F); }
    [[nodiscard]] float grave_width() const { return mm(60.0F); }
    [[nodiscard]] float grave_gap() const { return mm(8.0F); }

    /// Height of a capital letter, px.
    [[nodiscard]] float body_capital() const { return mm(3.2F) * text_scale; }
    [[nodiscard]] float value_capital() const { return mm(4.5F) * text_scale; }
    [[nodiscard]] float digit_capital() const { return mm(6.0F) * text_scale; }
};

/// Pixels in a millimetre: what the user set, else the monitor's own statement when it is believable
/// (3 to 16 px/mm), else the desktop's content scale at 96 pixels an inch. `set` outside 3 to 16 is
/// not believed either. `monitor_mm` is the width the monitor states, 0 when it states none.
[[nodiscard]] float pixels_per_mm(std::optional<float> set, int monitor_px, int monitor_mm,
                                  float content_scale);

} // namespace crossarm::ui
