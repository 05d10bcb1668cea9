#include "ui/touch/touch.hpp"

#include "checklist/model/result.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace crossarm::ui {
namespace {

constexpr double kClockGrain = 1e-6; // 1.2 s in binary fractions may come out a hair short
constexpr int kWantedFrames = 3;

} // namespace

Touch::Touch(const Sizes& sizes, const Theme& theme, const Fonts& fonts, const model::Words& words)
    : sizes_(sizes), theme_(theme), fonts_(fonts), words_(words), gesture_(sizes.px_per_mm) {}

void Touch::feed(const Sample& sample) {
    fed_.push_back(sample);
}

void Touch::begin_frame(double now_s, const Rect& screen) {
    now_s_ = now_s;
    screen_ = screen;
    settling_ = false;
    std::swap(hits_, last_hits_);
    std::swap(scrolls_, last_scrolls_);
    hits_.clear();
    scrolls_.clear();
    tapped_.clear();
    tapped_again_ = false;
    lifted_.clear();
    drawn_on_.clear();
    drawn_.clear();
    drawing_began_ = drawing_ended_ = false;
    // One tap a frame: the next finger meets what this one brought about.
    while (!fed_.empty() && tapped_.empty() && lifted_.empty() && !drawing_ended_) {
        const Sample sample = fed_.front();
        fed_.pop_front();
        use(sample);
    }
    move_scroll(gesture_.tick(now_s).y);

    list_ = ImGui::GetBackgroundDrawList();
    list_->AddRectFilled({screen.left, screen.top}, {screen.right, screen.bottom}, theme_(Role::Ground));
    pens_.assign(1, Pen{screen, screen.top, screen.top});
    clips_.assign(1, screen);
    if (log != nullptr) {
        log->items.clear();
    }
}

void Touch::end_frame() {
    model::require(pens_.size() == 1 && open_scrolls_.empty() && scope_.empty(),
                   "a scope, column or scroll area was left open at the end of a frame");
    wanted_frames_ = std::max(0, wanted_frames_ - 1);
}

void Touch::use(const Sample& sample) {
    const Gesture::Step step = gesture_.step(sample);
    if (step.pressed) {
        let_go_.clear();
        pressed_.clear();
        dragged_.clear();
        if (sample.time_s < ignore_until_s_) {
            gesture_.cancel();
            return;
        }
        if (const Hit* const hit = hit_at(last_hits_, sample.at)) {
            pressed_ = hit->path;
            if (hit->reacts == Reacts::ToHold) {
                gesture_.expect_hold();
            } else if (hit->reacts == Reacts::ToDraw) {
                gesture_.expect_draw();
                drawing_began_ = gesture_.phase() == Gesture::Phase::Draw;
            }
        }
        if (const Hit* const area = hit_at(last_scrolls_, sample.at)) {
            dragged_ = area->path;
        }
    }
    if (gesture_.phase() == Gesture::Phase::Draw || step.drew) {
        drawn_on_ = pressed_;
        drawn_.push_back(sample.at);
        drawing_ended_ = step.lifted;
    }
    move_scroll(step.moved.y);
    if (!step.lifted) {
        return;
    }
    const Hit* const hit = step.tapped ? hit_at(last_hits_, sample.at) : nullptr;
    if (hit != nullptr && hit->path == pressed_) {
        if (hit->reacts == Reacts::ToHold) {
            lifted_ = hit->path;
            lifted_held_s_ = sample.time_s - gesture_.pressed_at_s() + kClockGrain;
            if (lifted_held_s_ < kHoldS) {
                let_go_ = hit->path;
            }
        } else {
            tapped_ = hit->path;
            tapped_again_ = tapped_ == last_tapped_ && sample.time_s - last_tapped_s_ < kAgainS;
            if (!tapped_again_) {
                last_tapped_ = tapped_;
                last_tapped_s_ = sample.time_s;
            }
        }
    }
    pressed_.clear();
}

void Touch::drop_finger() {
    fed_.clear();
    gesture_.cancel();
    pressed_.clear();
    dragged_.clear();
}

void Touch::screen_changed() {
    gesture_.cancel();
    pressed_.clear();
    dragged_.clear();
    last_tapped_.clear();
    ignore_until_s_ = now_s_ + kNewScreenS;
    settling_ = true;
}

bool Touch::moving() const {
    const bool holding = gesture_.phase() == Gesture::Phase::Press && !pressed_.empty() &&
                         std::any_of(hits_.begin(), hits_.end(), [this](const Hit& hit) {
                             return hit.reacts == Reacts::ToHold && hit.path == pressed_;
                         });
    return holding || settling_ || !fed_.empty() || wanted_frames_ > 0 ||
           gesture_.phase() == Gesture::Phase::Fling;
}

void Touch::restyle(const Sizes& sizes, const Fonts& fonts) {
    sizes_ = sizes;
    fonts_ = fonts;
    gesture_ = Gesture(sizes.px_per_mm);
    pressed_.clear();
    dragged_.clear();
    hits_.clear();
    scrolls_.clear();
    heights_.clear();
    settling_ = true;
}

Rect Touch::room() const {
    const Pen& top = pen();
    return {top.column.left, top.y, top.column.right, std::max(top.y, top.column.bottom)};
}

Rect Touch::take(float height) {
    Pen& top = pen();
    const Rect taken{top.column.left, top.y, top.column.right, top.y + height};
    top.used = std::max(top.used, taken.bottom);
    top.y = taken.bottom + sizes_.gap();
    return taken;
}

std::string Touch::path(std::string_view name) const {
    std::string whole = scope_;
    whole += name;
    return whole;
}

Touch::Press Touch::put(Item item, Reacts reacts) {
    item.clip = clips_.back();
    Press press;
    if (wanted_frames_ > 0 && item.path == wanted_ && !open_scrolls_.empty()) {
        const Rect view = clips_.back();
        ScrollState& state = scroll_states_[open_scrolls_.back()];
        if (item.rect.top < view.top || item.rect.bottom > view.bottom) {
            state.offset += item.rect.top - view.top - std::max(0.0F, view.height() - item.rect.height()) / 3;
            settling_ = true;
        }
    }
    const Rect visible = item.visible();
    if (reacts != Reacts::No && item.enabled && !visible.empty()) {
        const bool under_finger = item.path == pressed_;
        press.tapped = !tapped_again_ && item.path == tapped_;
        press.again = tapped_again_ && item.path == tapped_;
        press.down = under_finger && gesture_.phase() == Gesture::Phase::Press;
        press.let_go = item.path == let_go_;
        if (reacts == Reacts::ToDraw) {
            press.down = under_finger && gesture_.phase() == Gesture::Phase::Draw;
            if (item.path == drawn_on_) {
                press.drawn = drawn_;
                press.began = drawing_began_;
                press.ended = drawing_ended_;
            }
        }
        if (reacts == Reacts::ToHold) {
            press.held_s = item.path == lifted_                        ? lifted_held_s_
                           : press.down && gesture_.held_s(now_s_) > 0 ? gesture_.held_s(now_s_) + kClockGrain
                                                                       : 0.0;
        }
        hits_.push_back({item.path, visible, reacts});
    }
    if (log != nullptr) {
        log->items.push_back(std::move(item));
    }
    return press;
}

const Touch::Hit* Touch::hit_at(const std::vector<Hit>& hits, Point at) const {
    const Hit* nearest = nullptr;
    float least = 0;
    for (const Hit& hit : hits) {
        if (!hit.rect.contains(at)) {
            continue;
        }
        const Point centre = hit.rect.centre();
        const float distance = std::hypot(centre.x - at.x, centre.y - at.y);
        if (nearest == nullptr || distance < least) {
            nearest = &hit;
            least = distance;
        }
    }
    return nearest;
}

std::string_view Touch::item_at(Point at) const {
    const Hit* const hit = hit_at(hits_, at);
    return hit == nullptr ? std::string_view{} : std::string_view{hit->path};
}

void Touch::bring_into_view(std::string_view path) {
    wanted_ = path;
    wanted_frames_ = kWantedFrames;
}

void Touch::move_scroll(float dy) {
    if (dy == 0 || dragged_.empty()) {
        return;
    }
    const auto it = scroll_states_.find(dragged_);
    if (it == scroll_states_.end()) {
        return;
    }
    ScrollState& state = it->second;
    const float end = std::max(0.0F, state.content - state.seen);
    const float wished = state.offset - dy;
    state.offset = std::clamp(wished, 0.0F, end);
    if (wished != state.offset && gesture_.phase() == Gesture::Phase::Fling) {
        gesture_.cancel(); // it has arrived at an end
    }
}

} // namespace crossarm::ui
