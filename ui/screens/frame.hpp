// How a screen is divided: its acts at the bottom when upright, beside the content when wide.
#pragma once

#include "ui/screens/view.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/touch.hpp"

#include <algorithm>
#include <cstddef>

namespace crossarm::ui {

/// Side by side when upright (where height is plenty), one above the other when wide.
class ActRow {
public:
    ActRow(Touch& touch, std::size_t acts) {
        if (touch.portrait() && acts > 1) {
            columns_.emplace(touch, acts);
        }
    }
    void next() {
        if (columns_) {
            columns_->next();
        }
    }

private:
    std::optional<Columns> columns_;
};

/// Draws the acts where the thumb is and the content in the rest. A wide screen is low: acts across its
/// bottom would leave the content too little height.
template<typename Acts, typename Content>
void divide(Touch& touch, Acts acts, Content content) {
    const Inset inset(touch);
    if (touch.portrait()) {
        {
            const BottomBar bar(touch, "bar");
            acts();
        }
        content();
        return;
    }
    const float side = std::max(touch.sizes().mm(42.0F), touch.width() * 0.2F);
    Columns columns(touch, {touch.width() - side, side});
    content();
    columns.next();
    const ScrollArea area(touch, "bar");
    acts();
}

} // namespace crossarm::ui
