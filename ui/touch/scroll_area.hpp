// A part of the screen whose content is dragged by a finger anywhere in it and runs on when flung.
#pragma once

#include "ui/touch/touch.hpp"

#include <string>
#include <string_view>

namespace crossarm::ui {

/// Takes the whole room; what is drawn while it lives scrolls up and down in it. A bar at the right shows
/// where one is; it is not touched. Not to be nested. Keeps its place by name from frame to frame.
class ScrollArea {
public:
    ScrollArea(Touch& touch, std::string_view name);
    ~ScrollArea();
    ScrollArea(const ScrollArea&) = delete;
    ScrollArea& operator=(const ScrollArea&) = delete;

private:
    Touch& touch_;
    std::string path_;
    Rect view_;
};

/// Back to the top, for content that is new.
void scroll_to_top(Touch& touch, std::string_view name);

} // namespace crossarm::ui
