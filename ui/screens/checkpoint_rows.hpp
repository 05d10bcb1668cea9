// A checkpoint as a row of a list: its mark, what was found, and why it is locked.
#pragma once

#include "ui/screens/view.hpp"
#include "ui/touch/touch.hpp"

namespace crossarm::ui {

/// Opens the checkpoint when touched. The item's name is the checkpoint's id.
void checkpoint_row(Touch& touch, const View& view, const model::Checkpoint& checkpoint, Wishes& wishes);

} // namespace crossarm::ui
