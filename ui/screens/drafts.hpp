// What is half typed: kept apart from the screens so that turning the tablet loses nothing.
#pragma once

#include "ui/screens/form.hpp"
#include "ui/touch/number_draft.hpp"
#include "ui/touch/text_draft.hpp"

#include <optional>
#include <set>
#include <string>
#include <vector>

namespace crossarm::ui {

/// What the checkpoint screen is asking at the moment.
enum class Asking {
    Value,      ///< the input of the checkpoint, or what stands there
    Again,      ///< the input although an answer stands
    WhyUnusual, ///< a reading outside the usual range: for what reason is it kept?
    WhyOut,     ///< why could it not be reached?
    OwnWords,   ///< the reason in the person's own words
};

struct Drafts {
    std::string checkpoint; ///< the checkpoint the drafts belong to
    Asking asking = Asking::Value;
    Asking own_words_for = Asking::WhyOut; ///< which reason is being typed
    NumberDraft number;
    std::vector<std::optional<double>> readings; ///< for several readings
    std::size_t reading = 0;                     ///< which of them is on the pad
    TextDraft text;
    std::set<std::string> people;

    FormDraft form;

    bool break_off = false;      ///< the structure screen is asking why the visit is broken off
    bool all_structures = false; ///< the round shows all structures, not only those due
    bool list_view =
        false; ///< the other view than the stage's own: a list for the drawing, the drawing for steps

    /// Forgets what was half typed about another checkpoint.
    void belong_to(const std::string& other_checkpoint);
};

} // namespace crossarm::ui
