// From a signed visit to its file in the folder for the office.
#pragma once

#include "checklist/model/result.hpp"
#include "ui/screens/view.hpp"

namespace crossarm::ui {

/// Makes the bundle of the visit at hand (once: the same bytes for ever after), keeps it in the store, and
/// writes it whole into the view's folder, which is made when it is not there. Problem: the store's or the
/// folder's.
[[nodiscard]] model::Done write_out(store::Store& store, const View& view, model::Timestamp now);

} // namespace crossarm::ui
