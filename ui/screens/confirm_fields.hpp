// The fields in which a person confirms: a PIN, a signature as drawn.
#pragma once

#include "ui/screens/form.hpp"
#include "ui/screens/view.hpp"

#include <string>

namespace crossarm::ui {

/// Named "pin_<person>". Barred, with the remedy, while the person has no PIN on this tablet.
[[nodiscard]] FormField pin_field(const View& view, const std::string& person);
/// Named "signature".
[[nodiscard]] FormField signature_field(const View& view, const std::string& person);

} // namespace crossarm::ui
