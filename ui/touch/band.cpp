#include "ui/touch/band.hpp"

#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>

namespace crossarm::ui {

void band(Touch& touch, BandState state, std::string_view words, std::string_view fact) {
    const Sizes& sizes = touch.sizes();
    const Fonts& fonts = touch.fonts();
    const float margin = sizes.margin();
    const float width = touch.width() - 2 * margin;
    const Lines large = lay_out(fonts, words, width, Letter::Value, Weight::Bold);
    const Lines small = lay_out(fonts, fact, width, Letter::Body, Weight::Bold);
    const float edge = sizes.mm(2);
    const float height = large.height + small.height + sizes.mm(2);
    const Rect rect = touch.take(height + edge);
    touch.skip(-sizes.gap());

    const bool live = state == BandState::TreatAsLive;
    const std::uint32_t ground = touch.theme()(live ? Role::LiveBand : Role::PermitBand);
    ImDrawList& list = touch.list();
    const float end = rect.bottom - edge;
    list.AddRectFilled({rect.left, rect.top}, {rect.right, end}, ground);
    if (live) {
        const float tooth = 2 * edge;
        for (float x = rect.left; x < rect.right; x += tooth) {
            list.AddTriangleFilled({x, end}, {std::min(x + tooth, rect.right), end},
                                   {std::min(x + tooth / 2, rect.right), rect.bottom}, ground);
        }
    } else {
        list.AddRectFilled({rect.left, end + edge / 2}, {rect.right, rect.bottom}, ground);
    }
    Rect room{rect.left + margin, rect.top + sizes.mm(1), rect.right - margin, end};
    const std::uint32_t ink = touch.theme()(Role::BandWords);
    draw_lines(touch, large, room, ink, Letter::Value, Weight::Bold);
    room.top += large.height;
    draw_lines(touch, small, room, ink, Letter::Body, Weight::Bold);

    Item item;
    item.path = touch.path("band");
    item.kind = Kind::Band;
    item.rect = rect;
    item.text = words;
    if (!fact.empty()) {
        item.text += '\n';
        item.text += fact;
    }
    item.label_width = std::max(large.width, small.width);
    item.label_height = large.height + small.height;
    item.label_room_width = width;
    item.label_room_height = height;
    item.word_broken = large.word_broken || small.word_broken;
    touch.put(std::move(item), Touch::Reacts::No);
}

} // namespace crossarm::ui
