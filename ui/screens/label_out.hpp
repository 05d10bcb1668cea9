// The number of an oil sample, and its bottle's label as a file to print.
#pragma once

#include "checklist/model/result.hpp"
#include "ui/screens/view.hpp"

#include <string>

namespace crossarm::ui {

/// The number offered for a sample drawn now at this structure: not used at an earlier visit that the day
/// pack tells of.
[[nodiscard]] std::string offered_sample_number(const View& view, const model::Checkpoint& checkpoint);

/// Writes the label of the visit at hand into the folder of the bundles and returns its path.
[[nodiscard]] model::Result<std::string> write_sample_label(const View& view);

} // namespace crossarm::ui
