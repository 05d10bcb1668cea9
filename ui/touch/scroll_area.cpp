#include "ui/touch/scroll_area.hpp"

#include <imgui.h>

#include <algorithm>

namespace crossarm::ui {

ScrollArea::ScrollArea(Touch& touch, std::string_view name)
    : touch_(touch), path_(touch.path(name)), view_(touch.room()) {
    Item item;
    item.path = path_;
    item.kind = Kind::Scroll;
    item.rect = view_;
    touch.put(std::move(item), Touch::Reacts::No);
    touch.scrolls_.push_back({path_, common(view_, touch.clips_.back()), Touch::Reacts::No});

    Touch::ScrollState& state = touch.scroll_states_[path_];
    state.seen = view_.height();
    state.offset = std::clamp(state.offset, 0.0F, std::max(0.0F, state.content - state.seen));
    touch.clips_.push_back(common(view_, touch.clips_.back()));
    touch.open_scrolls_.push_back(path_);
    touch.list().PushClipRect({view_.left, view_.top}, {view_.right, view_.bottom}, true);
    const float top = view_.top - state.offset;
    const float bar = touch.sizes().mm(3);
    touch.pens_.push_back({{view_.left, top, view_.right - bar, view_.bottom}, top, top});
}

ScrollArea::~ScrollArea() {
    Touch::ScrollState& state = touch_.scroll_states_[path_];
    const float content = touch_.pen().used - (view_.top - state.offset);
    if (content != state.content) {
        state.content = content;
        touch_.settling_ = true;
    }
    touch_.pens_.pop_back();
    touch_.open_scrolls_.pop_back();
    touch_.clips_.pop_back();
    touch_.list().PopClipRect();

    const Sizes& sizes = touch_.sizes();
    if (content > view_.height() + 1) {
        const float length = std::max(sizes.mm(8), view_.height() * view_.height() / content);
        const float share = std::clamp(state.offset / (content - view_.height()), 0.0F, 1.0F);
        const float top = view_.top + share * (view_.height() - length);
        touch_.list().AddRectFilled({view_.right - sizes.mm(1.5F), top}, {view_.right, top + length},
                                    touch_.theme()(Role::Edge), sizes.mm(0.7F));
    }
    Touch::Pen& pen = touch_.pen();
    pen.used = std::max(pen.used, view_.bottom);
    pen.y = view_.bottom;
}

void scroll_to_top(Touch& touch, std::string_view name) {
    touch.scroll_offset(touch.path(name), 0);
}

} // namespace crossarm::ui
