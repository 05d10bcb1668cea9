// The questions behind each act on the permit, and the act that the answers make.
#pragma once

#include "ui/screens/form.hpp"
#include "ui/screens/view.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::ui {

/// Which act a form is for, and about what: "point_locked" and "HV1". As text in Place::checkpoint it is
/// "point_locked:HV1".
struct FormOf {
    std::string act;     ///< as model::permit::name
    std::string subject; ///< point, earth, party, side and conductor ("hv/A"); may be empty
};
[[nodiscard]] FormOf form_of(std::string_view text);
[[nodiscard]] std::string to_text(const FormOf& form);

/// The questions, given what is answered so far (some follow from others).
[[nodiscard]] std::vector<FormField> fields_of(const View& view, const FormOf& form, const FormDraft& draft);
/// The act; nothing while an answer is missing, or for a form that this version does not know.
[[nodiscard]] std::optional<model::permit::Act> act_of(const View& view, const FormOf& form,
                                                       const FormDraft& draft);
/// The heading of a form: "Lock and label point HV1".
[[nodiscard]] std::string title_of(const View& view, const FormOf& form);
/// True when the whole sheet is shown before the questions, because it is signed.
[[nodiscard]] bool shows_sheet(const FormOf& form);
/// How it is confirmed: held with its consequence for the acts that matter most, else a key.
[[nodiscard]] FormConfirm confirm_of(const View& view, const FormOf& form);

} // namespace crossarm::ui
