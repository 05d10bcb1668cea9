// What stands on the screen in this frame, for whoever has to find it by name: tests and the walk.
#pragma once

#include "ui/touch/rect.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace crossarm::ui {

enum class Kind { Text, Mark, Band, Button, HoldButton, Row, Choice, Key, Area, Draw, Scroll, Field };

struct Item {
    std::string path; ///< "checkpoint/oil.level/grade/watch", unique in a frame for what can be touched
    Kind kind = Kind::Text;
    Rect rect;             ///< px, whole, also where it is scrolled out of sight
    Rect clip;             ///< px, the part of the screen it may show in
    std::string text;      ///< every word it shows
    float label_width = 0; ///< px the words need
    float label_height = 0;
    float label_room_width = 0; ///< px the words have
    float label_room_height = 0;
    bool word_broken = false; ///< a word had to be broken to fit
    bool enabled = true;
    std::string why_disabled; ///< shown words; never empty when not enabled
    bool grave = false;       ///< an act that cannot be undone

    [[nodiscard]] Rect visible() const { return common(rect, clip); }
    /// Words do not fit where they are drawn.
    [[nodiscard]] bool cut() const {
        return word_broken || label_width > label_room_width + 0.5F ||
               label_height > label_room_height + 0.5F;
    }
};

[[nodiscard]] bool touchable(Kind kind);

/// The items of one frame, in the order they were drawn.
struct ItemLog {
    std::vector<Item> items;
    [[nodiscard]] const Item* find(std::string_view path) const;
};

} // namespace crossarm::ui
