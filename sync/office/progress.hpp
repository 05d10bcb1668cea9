// How far a long command has come.
#pragma once

#include <cstddef>
#include <functional>

namespace crossarm::office {

/// Told as a long command goes on: how many of how many are done. May be empty.
using Progress = std::function<void(std::size_t done, std::size_t all)>;

} // namespace crossarm::office
