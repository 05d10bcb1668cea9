// The office's content as text that is the same, byte for byte, whatever the order in which it came.
#pragma once

#include "checklist/model/result.hpp"
#include "sync/office/office_store.hpp"

#include <string>

namespace crossarm::office {

/// One canonical JSON object a line: the bundles by digest (with the SHA-256 of their bytes), then the
/// entries of each visit, then gaps and forks. Times of intake are left out.
[[nodiscard]] model::Result<std::string> dump(const OfficeStore& store);

} // namespace crossarm::office
