// Whether what a protocol names is there, and whether a visit can get through it.
#pragma once

#include "checklist/model/protocol.hpp"

namespace crossarm::model {

/// The first thing in `protocol` that points to nothing or cannot work; places as in its file.
[[nodiscard]] Done check_protocol(const Protocol& protocol, const std::string& file);

} // namespace crossarm::model
