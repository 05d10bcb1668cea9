#include "ui/touch/pin_pad.hpp"

#include "ui/touch/button.hpp"
#include "ui/touch/key_grid.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/text.hpp"

#include <imgui.h>

#include <algorithm>

namespace crossarm::ui {
namespace {

constexpr float kLeastWordsMm = 50; // beside the keys
constexpr char kWipe = 'C';

std::string count_text(const Touch& touch, std::size_t count) {
    return touch.words().say(
        model::Phrase{count == 1 ? "pin.digit" : "pin.digits", {{"count", std::to_string(count)}}});
}

// Dots and their number in words: nothing that tells a digit is drawn or logged.
void show_dots(Touch& touch, const PinDraft& draft) {
    const Sizes& sizes = touch.sizes();
    const Theme& theme = touch.theme();
    const std::string words = count_text(touch, draft.count());
    const float radius = sizes.mm(1.4F);
    const Lines lines = lay_out(touch.fonts(), words, touch.width() - 2 * sizes.pad());
    const Rect rect = touch.take(2 * radius + sizes.mm(2) + lines.height + 2 * sizes.pad());
    touch.skip(sizes.mm(2) - sizes.gap());
    const Rect edge = rect.shrunk(sizes.line() / 2);
    touch.list().AddRect({edge.left, edge.top}, {edge.right, edge.bottom}, theme(Role::Edge), 0, 0,
                         sizes.line());
    const Rect room = rect.shrunk(sizes.pad());
    const float step = std::min(3 * radius, room.width() / static_cast<float>(PinDraft::kMost));
    for (std::size_t i = 0; i < draft.count(); ++i) {
        const float x = room.left + step * (static_cast<float>(i) + 0.5F);
        touch.list().AddCircleFilled({x, room.top + radius}, radius, theme(Role::Words));
    }
    draw_lines(touch, lines, {room.left, room.bottom - lines.height, room.right, room.bottom},
               theme(Role::QuietWords), Letter::Body, Weight::Regular);
    Item item;
    item.path = touch.path("dots");
    item.kind = Kind::Field;
    item.rect = rect;
    item.text = words;
    item.label_width = lines.width;
    item.label_height = lines.height;
    item.label_room_width = room.width();
    item.label_room_height = room.height();
    item.word_broken = lines.word_broken;
    touch.put(std::move(item), Touch::Reacts::No);
}

void show_notice(Touch& touch, const PinDraft& draft) {
    const float top = touch.room().top;
    if (!draft.notice.empty()) {
        text(touch, draft.notice, {.weight = Weight::Bold, .role = Role::Warning});
    }
    // Room for two lines at all times, so that the keys do not jump under the finger.
    const float kept = 2 * touch.fonts().size(Letter::Body, Weight::Bold) + touch.sizes().mm(2);
    touch.skip(std::max(0.0F, kept - (touch.room().top - top)));
}

bool show_done(Touch& touch, const PinDraft& draft) {
    const std::string why =
        draft.enough()
            ? std::string()
            : touch.words().say(model::Phrase{"pin.too_few", {{"least", std::to_string(draft.least)}}});
    return button(touch, "done", touch.say("pin.done"), {.emphasis = Emphasis::Main, .why_disabled = why});
}

void show_keys(Touch& touch, PinDraft& draft, const KeyGrid& grid, const KeyGridSize& size) {
    const auto touched = key_grid(touch, grid, size);
    if (!touched) {
        return;
    }
    draft.notice.clear();
    if (touched->again) {
        draft.notice = touch.say("pin.twice");
    } else if (touched->key == kWipe) {
        draft.wipe();
    } else if (!draft.type(touched->key)) {
        draft.notice = touch.say("pin.full");
    }
}

} // namespace

std::optional<std::string> pin_pad(Touch& touch, std::string_view name, PinDraft& draft) {
    const Scope scope(touch, name);
    const std::string wipe_label = touch.say("pin.wipe");
    KeyGrid grid = digit_keys();
    grid.acts[3] = {"wipe", wipe_label, kWipe};
    const float gap = touch.sizes().gap();
    KeyGridSize size = key_grid_size(touch, grid, touch.width() / 2);
    const float keys = size.all(gap);
    const float words = touch.width() - keys - gap;
    bool done = false;
    const auto show_words = [&] {
        if (!draft.title.empty()) {
            heading(touch, draft.title);
        }
        show_dots(touch, draft);
        show_notice(touch, draft);
    };
    if (words >= touch.sizes().mm(kLeastWordsMm)) {
        Columns columns(touch, {words, keys});
        show_words();
        done = show_done(touch, draft);
        columns.next();
        show_keys(touch, draft, grid, size);
    } else {
        size = key_grid_size(touch, grid, 0);
        show_words();
        show_keys(touch, draft, grid, size);
        done = show_done(touch, draft);
    }
    return done ? std::optional(draft.take()) : std::nullopt;
}

} // namespace crossarm::ui
