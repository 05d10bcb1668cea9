// What the permit says, in words for people.
#pragma once

#include "ui/screens/view.hpp"

#include <string>

namespace crossarm::ui {

/// The whole sheet that is signed, line by line, with the first digits of its digest.
[[nodiscard]] std::string sheet_for_people(const View& view);

/// Parts of it: one line each, or a line that says that nothing is recorded.
[[nodiscard]] std::string points_for_people(const View& view);
[[nodiscard]] std::string proof_for_people(const View& view, model::permit::Side side);
[[nodiscard]] std::string earths_for_people(const View& view);
[[nodiscard]] std::string zone_for_people(const View& view);
[[nodiscard]] std::string supplies_for_people(const View& view);
/// Holder, times, people and tools of a party.
[[nodiscard]] std::string party_for_people(const View& view, const visit::permit::Party& party);

} // namespace crossarm::ui
