// The permit as a file to print.
#pragma once

#include "checklist/model/result.hpp"
#include "ui/screens/view.hpp"

#include <string>

namespace crossarm::ui {

/// Writes the permit of the visit at hand, as it stands now, into the folder of the bundles and returns the
/// file's path. A page written before is replaced.
[[nodiscard]] model::Result<std::string> write_permit_page(const View& view);

} // namespace crossarm::ui
