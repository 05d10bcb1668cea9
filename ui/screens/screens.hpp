// The screens. Each reads the view and its drafts, and says what it wishes.
#pragma once

#include "ui/screens/drafts.hpp"
#include "ui/screens/view.hpp"
#include "ui/touch/touch.hpp"

namespace crossarm::ui {

void draw_people(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes);
void draw_round(Touch& touch, const View& view, Drafts& drafts, Wishes& wishes);
void draw_structure(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes);
void draw_part(Touch& touch, const View& view, const Place& place, Wishes& wishes);
void draw_checkpoint(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes);
void draw_workings(Touch& touch, const View& view, const Place& place, Wishes& wishes);
void draw_danger(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes);
void draw_sign_off(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes);
void draw_hand_over(Touch& touch, const View& view, Wishes& wishes);
void draw_permit(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes);
void draw_briefing(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes);

/// Draws the screen of `place`. A place inside a visit that is not there (any more) shows the round.
void draw_screen(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes);

} // namespace crossarm::ui
