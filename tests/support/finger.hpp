// A finger on the still platform: finds items by name, touches the glass, and sees what stands on it.
#pragma once

#include "tests/support/still_platform.hpp"
#include "ui/touch/item_log.hpp"

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::tests {

/// The finger could not do what it was told; what() says why, with the names that come nearest.
struct FingerError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Only touches: it presses where an item is, checks that the item lies there uncovered, and lifts. Items are
/// named by their whole path, or by an end of it that only one item has ("grade/watch").
/// Everything throws FingerError on failure. The finger waits between two touches as a person would.
class Finger {
public:
    /// Shows the face on the platform and lets it settle. The face must outlive the finger.
    Finger(StillPlatform& platform, ui::Face& face);
    ~Finger();
    Finger(const Finger&) = delete;
    Finger& operator=(const Finger&) = delete;

    void tap(std::string_view path);
    void tap_at(ui::Point at);
    /// Presses and stays for `seconds` of the clock, then lifts.
    void hold(std::string_view path, double seconds = 1.3);
    /// Down at `from`, to `to` in `seconds`, rest, up: no fling.
    void drag(ui::Point from, ui::Point to, double seconds = 0.3);
    /// Down in the middle of the item, `up_mm` upwards in 0.1 s, up: flings.
    void flick(std::string_view path, float up_mm);
    /// Drags the scroll area that holds the item until it is in sight.
    void show(std::string_view path);
    /// Draws a line through places of the item, in mm from its top left.
    void draw(std::string_view path, const std::vector<ui::Point>& way_mm);
    /// Signs on the pad of this path: two lines that are long enough.
    void sign(std::string_view pad);
    /// Types on the number pad of this path, key by key: "47.5", "-", "<" deletes the last, "C" clears.
    void type(std::string_view pad, std::string_view keys);
    /// Types on the keyboard of this path, changing pages and capitals as needed.
    void type_text(std::string_view keyboard, std::string_view text);

    /// Some item in sight shows these words.
    [[nodiscard]] bool sees(std::string_view words) const;
    /// Some item of this path is on the screen, in sight or scrolled away.
    [[nodiscard]] bool has(std::string_view path) const;
    [[nodiscard]] const ui::Item& item(std::string_view path) const;
    [[nodiscard]] const std::vector<ui::Item>& items() const { return log_.items; }
    /// Every word in sight, one item a line: for messages.
    [[nodiscard]] std::string words_in_sight() const;

    void settle();
    /// Time passes for the person, and the screen settles.
    void wait(double seconds);
    /// The glass is turned or another one: shown anew.
    void turn(const Glass& glass);

    [[nodiscard]] StillPlatform& platform() { return platform_; }

private:
    [[nodiscard]] const ui::Item* look_for(std::string_view path) const;
    [[nodiscard]] const ui::Item& ready(std::string_view path);
    [[nodiscard]] ui::Point scroll_from(const ui::Rect& clip, float way) const;
    void press(ui::Point at);
    void move(ui::Point at);
    void lift(ui::Point at);
    void pause();

    StillPlatform& platform_;
    ui::Face& face_;
    ui::ItemLog log_;
};

} // namespace crossarm::tests
