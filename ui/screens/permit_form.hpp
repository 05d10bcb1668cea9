// One act on the permit: what is signed, the questions, the confirmation.
#pragma once

#include "ui/screens/permit_forms.hpp"
#include "ui/touch/touch.hpp"

namespace crossarm::ui {

/// Why the act would be refused to whoever does it; empty when it would not.
[[nodiscard]] std::string why_refused(const View& view, const model::permit::Act& act, const std::string& by);

void draw_permit_form(Touch& touch, const View& view, const FormOf& form, FormDraft& draft, Wishes& wishes);

} // namespace crossarm::ui
