// From a place to its screen.
#include "ui/screens/screens.hpp"

namespace crossarm::ui {

void draw_screen(Touch& touch, const View& view, const Place& place, Drafts& drafts, Wishes& wishes) {
    if (place.screen == Screen::People) {
        draw_people(touch, view, place, drafts, wishes);
        return;
    }
    if (place.screen == Screen::Structure) {
        draw_structure(touch, view, place, drafts, wishes);
        return;
    }
    if (place.screen == Screen::Round || !view.at_hand) {
        draw_round(touch, view, drafts, wishes);
        return;
    }
    switch (place.screen) {
    case Screen::Part:
        draw_part(touch, view, place, wishes);
        break;
    case Screen::Checkpoint:
        draw_checkpoint(touch, view, place, drafts, wishes);
        break;
    case Screen::Workings:
        draw_workings(touch, view, place, wishes);
        break;
    case Screen::Danger:
        draw_danger(touch, view, place, drafts, wishes);
        break;
    case Screen::SignOff:
        draw_sign_off(touch, view, place, drafts, wishes);
        break;
    case Screen::HandOver:
        draw_hand_over(touch, view, wishes);
        break;
    case Screen::Permit:
        draw_permit(touch, view, place, drafts, wishes);
        break;
    case Screen::Briefing:
        draw_briefing(touch, view, place, drafts, wishes);
        break;
    case Screen::People:
    case Screen::Round:
    case Screen::Structure:
        break;
    }
}

} // namespace crossarm::ui
