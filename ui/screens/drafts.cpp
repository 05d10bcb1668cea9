#include "ui/screens/drafts.hpp"

namespace crossarm::ui {

void Drafts::belong_to(const std::string& other_checkpoint) {
    if (checkpoint == other_checkpoint) {
        return;
    }
    checkpoint = other_checkpoint;
    asking = Asking::Value;
    number = {};
    readings.clear();
    reading = 0;
    text = {};
    people.clear();
    form.clear();
}

} // namespace crossarm::ui
