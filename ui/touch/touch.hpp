// What every widget is handed in a frame: the finger, the pen that lays things out, sizes, colours, letters.
#pragma once

#include "checklist/model/words.hpp"
#include "ui/look/fonts.hpp"
#include "ui/look/sizes.hpp"
#include "ui/look/theme.hpp"
#include "ui/touch/gesture.hpp"
#include "ui/touch/item_log.hpp"
#include "ui/touch/rect.hpp"

#include <deque>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

struct ImDrawList;

namespace crossarm::ui {

/// Lays out from the top down in a column; every widget takes the column's width and as much height as its
/// words need. Nothing here is a Dear ImGui widget: ImGui holds the letters and the draw list only, so a
/// drag that began on a button scrolls, and a press never needs a hover first.
///
/// A frame: begin_frame(...); widgets...; end_frame(). A tap is decided against what the last frame showed.
class Touch {
public:
    Touch(const Sizes& sizes, const Theme& theme, const Fonts& fonts, const model::Words& words);

    // ---- the shell's part ---------------------------------------------------------------------------
    void feed(const Sample& sample);                    ///< the pointer, in order of time
    void begin_frame(double now_s, const Rect& screen); ///< call after ImGui::NewFrame
    void end_frame();
    /// Another screen is shown from now on: the finger that is down is dropped and touches are ignored for
    /// kNewScreenS, so that nothing is tapped that had not been seen.
    void screen_changed();
    /// Whatever finger is down is to be forgotten: the window lost the pointer.
    void drop_finger();
    /// Something still moves or is still settling: draw another frame.
    [[nodiscard]] bool moving() const;
    /// Sizes or letters changed; call between frames.
    void restyle(const Sizes& sizes, const Fonts& fonts);
    ItemLog* log = nullptr; ///< filled when not null

    // ---- what screens may ask -----------------------------------------------------------------------
    [[nodiscard]] const Sizes& sizes() const { return sizes_; }
    [[nodiscard]] const Theme& theme() const { return theme_; }
    [[nodiscard]] const Fonts& fonts() const { return fonts_; }
    [[nodiscard]] const model::Words& words() const { return words_; }
    [[nodiscard]] std::string say(std::string_view key) const { return words_.say(key); }
    [[nodiscard]] double now_s() const { return now_s_; }
    [[nodiscard]] Rect screen() const { return screen_; }
    [[nodiscard]] bool portrait() const { return screen_.height() > screen_.width(); }
    /// The draw list to draw on, already clipped to the current scroll area.
    [[nodiscard]] ImDrawList& list() const { return *list_; }

    /// The part of the screen that shows what is drawn now.
    [[nodiscard]] Rect clip() const { return clips_.back(); }

    // ---- the pen ------------------------------------------------------------------------------------
    /// What is left of the current column: from the pen down to the column's end.
    [[nodiscard]] Rect room() const;
    [[nodiscard]] float width() const { return room().width(); }
    /// Height that can be in sight at once, however it is scrolled: the scroll area's, else the room's.
    [[nodiscard]] float height_in_sight() const {
        return open_scrolls_.empty() ? room().height() : clips_.back().height();
    }
    /// Takes `height` px from the top of the room, keeps the gap for the next widget, and returns it.
    Rect take(float height);
    /// Extra distance before the next widget. `skip(-gap)` closes the gap.
    void skip(float height) { pen().y += height; }

    // ---- the finger, for widgets --------------------------------------------------------------------
    [[nodiscard]] std::string path(std::string_view name) const; ///< scopes and name joined by '/'

    /// What the finger did to the item in this frame.
    struct Press {
        bool tapped = false; ///< act now
        bool again = false;  ///< tapped a second time within kAgainS: say so, do not act
        bool down = false;   ///< the finger is on it: draw it pressed
        double held_s = 0;   ///< for holds: seconds it has been held
        bool let_go = false; ///< for holds: lifted too early in this frame
        /// For lines: where the finger went in this frame, px, in order; it may be outside the item. Valid
        /// until the next frame.
        std::span<const Point> drawn = {};
        bool began = false; ///< for lines: the first of `drawn` is where the finger came down
        bool ended = false; ///< for lines: the last of `drawn` is where it lifted
    };
    enum class Reacts { No, ToTap, ToHold, ToDraw };
    /// Makes `item.rect` touchable, or just notes it when it reacts to nothing, and logs it. item.path must
    /// be whole (path(name)); item.clip is filled in here.
    Press put(Item item, Reacts reacts);
    /// The hold on this item has been counted: it does not count again before the finger lifts.
    void hold_taken() { gesture_.cancel(); }

    /// The enabled item that a finger at `at` would touch in the frame last drawn; empty when none.
    [[nodiscard]] std::string_view item_at(Point at) const;
    [[nodiscard]] Gesture::Phase phase() const { return gesture_.phase(); }

    /// Scrolls so that the item of this path is in sight when it is next drawn.
    void bring_into_view(std::string_view path);
    /// Scrolls the area of this whole path to `offset` px from its top.
    void scroll_offset(const std::string& path, float offset) { scroll_states_[path].offset = offset; }

private:
    friend class Scope;
    friend class Columns;
    friend class BottomBar;
    friend class ScrollArea;
    friend class Inset;

    struct Pen {
        Rect column;
        float y = 0;    // top of the next widget
        float used = 0; // bottom of the last widget
    };
    struct Hit {
        std::string path;
        Rect rect; // visible part
        Reacts reacts;
    };
    struct ScrollState {
        float offset = 0;  // px scrolled away at the top
        float content = 0; // px, as measured in the last frame
        float seen = 0;    // px of height
    };

    [[nodiscard]] Pen& pen() { return pens_.back(); }
    [[nodiscard]] const Pen& pen() const { return pens_.back(); }
    void use(const Sample& sample);
    [[nodiscard]] const Hit* hit_at(const std::vector<Hit>& hits, Point at) const;
    void move_scroll(float dy);

    Sizes sizes_;
    Theme theme_;
    Fonts fonts_;
    const model::Words& words_;
    Gesture gesture_;
    double now_s_ = 0;
    Rect screen_;
    ImDrawList* list_ = nullptr;

    std::deque<Sample> fed_;
    std::vector<Hit> hits_, last_hits_;       // what this frame and the last one show
    std::vector<Hit> scrolls_, last_scrolls_; // scroll areas
    std::string pressed_;                     // item under the finger when it came down
    std::string tapped_;                      // item tapped in this frame
    bool tapped_again_ = false;
    std::string lifted_; // item to be held that the finger left in this frame
    double lifted_held_s_ = 0;
    std::string let_go_;       // item whose hold ended too early, until the next touch
    std::string drawn_on_;     // item that a line was drawn on in this frame
    std::vector<Point> drawn_; // px, what was added to it
    bool drawing_began_ = false;
    bool drawing_ended_ = false;
    std::string last_tapped_;
    double last_tapped_s_ = -1e9;
    double ignore_until_s_ = -1e9;
    std::string dragged_; // scroll area that follows the finger
    std::string wanted_;  // item to bring into view
    int wanted_frames_ = 0;

    std::vector<Pen> pens_;
    std::vector<Rect> clips_;
    std::vector<std::string> open_scrolls_;
    std::string scope_;
    std::map<std::string, ScrollState, std::less<>> scroll_states_;
    std::map<std::string, float, std::less<>> heights_; // of bottom bars, as measured in the last frame
    bool settling_ = false;
};

} // namespace crossarm::ui
