// What is asked at a checkpoint: one input a kind of reading.
#pragma once

#include "ui/screens/drafts.hpp"
#include "ui/screens/view.hpp"
#include "ui/touch/touch.hpp"

namespace crossarm::ui {

/// Draws the input of `checkpoint` (or the question that follows from it) and wishes for the record.
void draw_input(Touch& touch, const View& view, const model::Checkpoint& checkpoint, Drafts& drafts,
                Wishes& wishes);

} // namespace crossarm::ui
