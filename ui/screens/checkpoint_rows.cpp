#include "ui/screens/checkpoint_rows.hpp"

#include "ui/screens/chrome.hpp"
#include "ui/touch/row.hpp"

namespace crossarm::ui {

void checkpoint_row(Touch& touch, const View& view, const model::Checkpoint& checkpoint, Wishes& wishes) {
    const visit::Answer* answer = answer_at(view, checkpoint.id);
    const std::optional<Mark> mark = mark_at(view, checkpoint.id);
    std::string second;
    std::string why;
    if (answer != nullptr) {
        second = value_text(view, &checkpoint, answer->finding.value);
    } else if (const auto lock = view.at_hand->locks.find(checkpoint.id); lock != view.at_hand->locks.end()) {
        why = view.words.say(lock->second.why);
    }
    // An answer without a grade shows itself at the right instead of a mark.
    const RowText words{.title = checkpoint.title, .second = second, .mark = mark, .why_disabled = why};
    if (row(touch, checkpoint.id, words)) {
        wishes.push_back(GoTo{{Screen::Checkpoint, view.at_hand->structure->id, "", checkpoint.id}});
    }
}

} // namespace crossarm::ui
