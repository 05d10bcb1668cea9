#include "ui/touch/layout.hpp"

#include "checklist/model/result.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::ui {

Scope::Scope(Touch& touch, std::string_view name) : touch_(touch), before_(touch.scope_.size()) {
    touch_.scope_ += name;
    touch_.scope_ += '/';
}

Scope::~Scope() {
    touch_.scope_.resize(before_);
}

Columns::Columns(Touch& touch, std::initializer_list<float> shares)
    : Columns(touch, std::vector<float>(shares)) {}

Columns::Columns(Touch& touch, std::size_t equal_columns)
    : Columns(touch, std::vector<float>(equal_columns, 1.0F)) {}

Columns::Columns(Touch& touch, const std::vector<float>& shares) : touch_(touch) {
    model::require(!shares.empty(), "columns without a column");
    const Rect room = touch.room();
    top_ = lowest_ = room.top;
    float sum = 0;
    for (const float share : shares) {
        sum += share;
    }
    const float gap = touch.sizes().gap();
    const float width = room.width() - gap * static_cast<float>(shares.size() - 1);
    float before = 0;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        const float gaps = gap * static_cast<float>(i);
        edges_.push_back(room.left + gaps + std::round(width * before / sum));
        before += shares[i];
        edges_.push_back(room.left + gaps + std::round(width * before / sum));
    }
    open();
}

Columns::~Columns() {
    close();
    Touch::Pen& pen = touch_.pen();
    if (lowest_ > top_) {
        pen.used = std::max(pen.used, lowest_);
        pen.y = lowest_ + touch_.sizes().gap();
    }
}

void Columns::next() {
    close();
    at_ = (at_ + 1) % (edges_.size() / 2);
    open();
}

void Columns::open() {
    const float bottom = touch_.room().bottom;
    touch_.pens_.push_back({{edges_[at_ * 2], top_, edges_[at_ * 2 + 1], bottom}, top_, top_});
}

void Columns::close() {
    lowest_ = std::max(lowest_, touch_.pen().used);
    touch_.pens_.pop_back();
}

BottomBar::BottomBar(Touch& touch, std::string_view name) : touch_(touch), path_(touch.path(name)) {
    const Rect room = touch.room();
    const auto it = touch.heights_.find(path_);
    const float height = it == touch.heights_.end() ? touch.sizes().target() : it->second;
    top_ = std::max(room.top, room.bottom - height);
    touch.pens_.push_back({{room.left, top_, room.right, room.bottom}, top_, top_});
}

BottomBar::~BottomBar() {
    const float height = touch_.pen().used - top_;
    touch_.pens_.pop_back();
    const auto [it, is_new] = touch_.heights_.try_emplace(path_, height);
    if (is_new || it->second != height) {
        it->second = height;
        touch_.settling_ = true;
    }
    if (height > 0) {
        touch_.pen().column.bottom = top_ - touch_.sizes().gap();
    }
}

Inset::Inset(Touch& touch) : touch_(touch) {
    const float margin = touch.sizes().margin();
    open(margin, margin, margin, margin);
}

Inset::Inset(Touch& touch, float left_mm, float top_mm, float right_mm, float bottom_mm) : touch_(touch) {
    const Sizes& sizes = touch.sizes();
    open(sizes.mm(left_mm), sizes.mm(top_mm), sizes.mm(right_mm), sizes.mm(bottom_mm));
}

void Inset::open(float left, float top, float right, float bottom) {
    bottom_ = bottom;
    const Rect room = touch_.room();
    const Rect inner{room.left + left, room.top + top, room.right - right, room.bottom - bottom};
    touch_.pens_.push_back({inner, inner.top, inner.top});
}

Inset::~Inset() {
    const float end = touch_.pen().used + bottom_;
    touch_.pens_.pop_back();
    Touch::Pen& pen = touch_.pen();
    pen.used = std::max(pen.used, end);
    pen.y = end;
}

} // namespace crossarm::ui
