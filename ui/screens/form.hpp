// Several questions that make one act: asked one after the other, looked at together, then confirmed.
#pragma once

#include "ui/screens/place.hpp"
#include "ui/touch/choice.hpp"
#include "ui/touch/number_draft.hpp"
#include "ui/touch/pin_draft.hpp"
#include "ui/touch/signature_draft.hpp"
#include "ui/touch/text_draft.hpp"
#include "ui/touch/touch.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::ui {

enum class Ask {
    Words,     ///< one of the options as it reads, or own words
    Choice,    ///< one of the options; its name is the answer
    Number,    ///< on the number pad
    Signature, ///< strokes as text
    Pin,       ///< of the person in `person`
};

struct FormField {
    std::string name;     ///< under which the answer is kept
    std::string question; ///< whole words
    Ask ask = Ask::Words;
    std::vector<Option> options = {};
    NumberLimits limits = {};
    std::string unit = {};
    std::string person = {}; ///< for a PIN
    std::string barred = {}; ///< not empty: it cannot be answered now, and this sentence says why
};

struct FormDraft {
    std::map<std::string, std::string, std::less<>> answers;
    std::string asked;     ///< the field that the inputs below belong to
    bool moved_on = false; ///< another question is shown from now on: its beginning has to be in sight
    bool own_words = false;
    TextDraft text;
    NumberDraft number;
    SignatureDraft signature;
    PinDraft pin;
    std::vector<GivenPin> pins; ///< in the order of the fields

    /// The answer to a field; empty when there is none yet.
    [[nodiscard]] std::string answer(std::string_view field) const;
    /// Forgets everything; PINs are overwritten.
    void clear();
    /// Forgets the answer, and the signature and every PIN: they were given for what stood there. Their
    /// fields are called "signature" and "pin_...".
    void ask_again(const std::string& field);
    /// Hands the PINs over.
    [[nodiscard]] std::vector<GivenPin> take_pins();
    /// The same for a wish; after a wrong PIN all of them are asked again, and nothing else.
    [[nodiscard]] std::vector<GivenPin> hand_over_pins();
};

/// What confirms the form once everything is answered.
struct FormConfirm {
    std::string label;
    std::string consequence = {};  ///< not empty: it is held, and this is what it brings about
    std::string why_disabled = {}; ///< why it would be refused
};

/// Asks the first open field, shows what is answered (touched, it is asked again), and then the confirmation.
/// True when that was given. Items: "<name>/<field>/..." for the input, "<name>/answered/<field>",
/// "<name>/confirm". Stands in a ScrollArea.
[[nodiscard]] bool draw_form(Touch& touch, std::string_view name, const std::vector<FormField>& fields,
                             FormDraft& draft, const FormConfirm& confirm);

/// The question that is asked now; null when all are answered.
[[nodiscard]] const FormField* open_field(const std::vector<FormField>& fields, const FormDraft& draft);

/// True when every field has its answer.
[[nodiscard]] bool is_answered(const std::vector<FormField>& fields, const FormDraft& draft);

} // namespace crossarm::ui
