// One part: its checkpoints in the order they are asked.
#include "ui/screens/checkpoint_rows.hpp"
#include "ui/screens/chrome.hpp"
#include "ui/screens/frame.hpp"
#include "ui/screens/screens.hpp"
#include "ui/touch/layout.hpp"
#include "ui/touch/scroll_area.hpp"
#include "ui/touch/text.hpp"

namespace crossarm::ui {

namespace {

void draw_list(Touch& touch, const View& view, const Place& place, Wishes& wishes) {
    const model::Part* part = view.protocol().part(place.part);
    heading(touch, view.at_hand->structure->id + "  " + (part == nullptr ? place.part : part->title));
    draw_notice(touch, view, wishes);
    const ScrollArea list(touch, "list");
    for (const model::Checkpoint& checkpoint : view.protocol().checkpoints) {
        if (checkpoint.part == place.part &&
            visit::is_asked(checkpoint, *view.at_hand->structure, view.at_hand->state)) {
            checkpoint_row(touch, view, checkpoint, wishes);
        }
    }
}

} // namespace

void draw_part(Touch& touch, const View& view, const Place& place, Wishes& wishes) {
    const Scope scope(touch, "part");
    draw_band(touch, view, wishes);
    divide(touch, [&] { draw_back(touch, wishes); }, [&] { draw_list(touch, view, place, wishes); });
}

} // namespace crossarm::ui
