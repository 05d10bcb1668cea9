#include "ui/touch/band.hpp"

#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>

namespace crossarm::ui {
namespace {

constexpr float kStopWidthMm = 24;

/// The stop key's words and size; width 0 without a stop.
struct StopKey {
    Lines lines;
    float width = 0;
    float height = 0;
};

StopKey lay_out_stop(const Touch& touch, std::string_view words) {
    if (words.empty()) {
        return {};
    }
    const Sizes& sizes = touch.sizes();
    StopKey key;
    key.width = std::max({sizes.mm(kStopWidthMm), sizes.target(),
                          longest_word(touch.fonts(), words, Weight::Bold, Letter::Value) + 2 * sizes.pad()});
    key.lines = lay_out(touch.fonts(), words, key.width - 2 * sizes.pad(), Letter::Value, Weight::Bold);
    key.height = std::max(sizes.target(), key.lines.height + 2 * sizes.mm(1));
    return key;
}

bool draw_stop(Touch& touch, const StopKey& key, const Rect& rect, std::string_view words) {
    const Sizes& sizes = touch.sizes();
    Item item;
    item.path = touch.path("stop_work");
    item.kind = Kind::Button;
    item.rect = rect;
    item.text = words;
    item.label_width = key.lines.width;
    item.label_height = key.lines.height;
    item.label_room_width = rect.width() - 2 * sizes.pad();
    item.label_room_height = rect.height();
    item.word_broken = key.lines.word_broken;
    const Touch::Press press = touch.put(std::move(item), Touch::Reacts::ToTap);
    const Theme& theme = touch.theme();
    touch.list().AddRectFilled({rect.left, rect.top}, {rect.right, rect.bottom},
                               theme(press.down ? Role::StopPressed : Role::Stop), sizes.mm(1));
    const Rect edge = rect.shrunk(sizes.line());
    touch.list().AddRect({edge.left, edge.top}, {edge.right, edge.bottom}, theme(Role::StopWords),
                         sizes.mm(1), 0, sizes.line());
    draw_lines(touch, key.lines,
               {rect.left + sizes.pad(), rect.centre().y - key.lines.height / 2, rect.right - sizes.pad(),
                rect.bottom},
               theme(Role::StopWords), Letter::Value, Weight::Bold, Align::Middle);
    return press.tapped;
}

} // namespace

bool band(Touch& touch, BandState state, std::string_view words, std::string_view fact,
          std::string_view stop) {
    const Sizes& sizes = touch.sizes();
    const Fonts& fonts = touch.fonts();
    const float margin = sizes.margin();
    const StopKey key = lay_out_stop(touch, stop);
    const float beside = key.width > 0 ? key.width + margin : 0;
    const float width = touch.width() - 2 * margin - beside;
    const Lines large = lay_out(fonts, words, width, Letter::Value, Weight::Bold);
    const Lines small = lay_out(fonts, fact, width, Letter::Body, Weight::Bold);
    const float edge = sizes.mm(2);
    const float edges = sizes.mm(2); // 1 mm above, 1 mm below
    const float height = std::max(large.height + small.height, key.height) + edges;
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
    Rect room{rect.left + margin, rect.top + sizes.mm(1), rect.right - margin - beside, end};
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
    if (key.width == 0) {
        return false;
    }
    const float top = rect.top + sizes.mm(1);
    return draw_stop(touch, key,
                     {rect.right - margin - key.width, top, rect.right - margin, top + key.height}, stop);
}

} // namespace crossarm::ui
