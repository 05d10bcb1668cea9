// The verbs of crossarm-office that take in, hand out and look after what is kept.
#pragma once

#include "sync/office/arguments.hpp"
#include "sync/office/command.hpp"

namespace crossarm::office {

/// How a command ends.
constexpr int kRefused = 1;  ///< something that came in was refused
constexpr int kCouldNot = 2; ///< it could not work

[[nodiscard]] Ending could_not(const model::Problem& problem);

/// intake DIR | --again | --watch DIR
[[nodiscard]] Ending run_intake(const Arguments& arguments, const Surroundings& around);
/// held: what is held back, why and since when.
[[nodiscard]] Ending run_held(const Arguments& arguments);

} // namespace crossarm::office
