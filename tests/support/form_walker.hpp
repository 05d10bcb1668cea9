// Fills a form by finger, question after question.
#pragma once

#include "tests/support/finger.hpp"
#include "ui/screens/permit_forms.hpp"
#include "ui/screens/session.hpp"

#include <map>
#include <string>

namespace crossarm::tests {

/// Field -> the name of an option, a number, or words to type.
using FormAnswers = std::map<std::string, std::string, std::less<>>;

/// A field without an answer here gets a usual one, or the first option. Signs, and types everybody's PIN.
/// Throws FingerError when the form does not end.
class FormWalker {
public:
    FormWalker(Finger& finger, ui::Session& session) : finger_(finger), session_(session) {}

    /// The form that is on the screen, up to its confirmation.
    void answer(const ui::FormOf& form, const FormAnswers& answers = {});
    /// The same, and confirms it: by holding where the form is held.
    void fill(const ui::FormOf& form, const FormAnswers& answers = {});
    void confirm(const ui::FormOf& form);
    /// One field of whatever form is on the screen.
    void give(const ui::FormField& field, const std::string& answer);
    void pin(const std::string& field, const std::string& digits);

private:
    Finger& finger_;
    ui::Session& session_;
};

} // namespace crossarm::tests
