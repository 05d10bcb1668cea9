// The verbs of crossarm-office that take in, hand out and look after what is kept.
#pragma once

#include "sync/office/arguments.hpp"
#include "sync/office/command.hpp"
#include "sync/office/office_store.hpp"

#include <vector>

namespace crossarm::office {

/// How a command ends.
constexpr int kRefused = 1;  ///< something that came in was refused
constexpr int kCouldNot = 2; ///< it could not work

[[nodiscard]] Ending could_not(const model::Problem& problem);
/// Something that came in was refused: all that is wrong with it, a line each.
[[nodiscard]] Ending refused(const std::vector<model::Problem>& problems);
/// The office store that --store names.
[[nodiscard]] model::Result<OfficeStore> open_store(const Arguments& arguments, OfficeStore::Make make);

/// intake DIR | --again | --watch DIR
[[nodiscard]] Ending run_intake(const Arguments& arguments, const Surroundings& around);
/// held: what is held back, why and since when.
[[nodiscard]] Ending run_held(const Arguments& arguments);
/// lettering: what the painter puts on a structure.
[[nodiscard]] Ending run_lettering(const Arguments& arguments);
/// register: the register's structures with the new units in it, as CSV.
[[nodiscard]] Ending run_register(const Arguments& arguments);

} // namespace crossarm::office
