// What can be done at one step of the permit, and what is recorded there.
#pragma once

#include "ui/screens/permit_forms.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace crossarm::ui {

/// The forms that belong to a step ("points", "proof_hv" ...), to a party ("party:A") or to "lead", in
/// read-do order: what comes next stands first.
[[nodiscard]] std::vector<FormOf> forms_at(const View& view, std::string_view step);
/// What stands there, in words; may be empty.
[[nodiscard]] std::string facts_at(const View& view, std::string_view step);
/// "Points locked and labelled", "Party A".
[[nodiscard]] std::string step_title(const View& view, std::string_view step);

} // namespace crossarm::ui
