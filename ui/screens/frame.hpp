// How a screen is divided: its acts at the bottom when upright, beside the content when wide.
#pragma once

#include "ui/screens/chrome.hpp"
#include "ui/screens/view.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/touch.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>

namespace crossarm::ui {

/// Side by side when upright (where height is plenty), two and two where more would be too narrow for their
/// words; one above the other when wide.
class ActRow {
public:
    ActRow(Touch& touch, std::size_t acts) : touch_(touch), in_a_row_(acts) {
        if (!touch.portrait() || acts < 2) {
            return;
        }
        const float each = (touch.width() + touch.sizes().gap()) / static_cast<float>(acts);
        if (acts > 2 && each - touch.sizes().gap() < touch.sizes().mm(24)) {
            in_a_row_ = 2;
        }
        columns_.emplace(touch_, in_a_row_);
    }
    void next() {
        if (!columns_) {
            return;
        }
        if (++at_ % in_a_row_ == 0) {
            columns_.reset(); // the pen goes below this row before the next one begins
            columns_.emplace(touch_, in_a_row_);
        } else {
            columns_->next();
        }
    }

private:
    Touch& touch_;
    std::size_t in_a_row_;
    std::size_t at_ = 0;
    std::optional<Columns> columns_;
};

/// The way back and who holds the tablet, for screens with no other acts.
inline void draw_back_and_holder(Touch& touch, const View& view, Wishes& wishes) {
    ActRow acts(touch, 2);
    draw_back(touch, wishes);
    acts.next();
    draw_holder(touch, view, wishes);
}

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
