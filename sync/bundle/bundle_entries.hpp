// What the entries of a bundle must be, whatever they say: a whole chain of one closed visit.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/result.hpp"
#include "sync/bundle/bundle.hpp"

#include <string>
#include <vector>

namespace crossarm::bundle {

/// Checks, in this order: one visit, ids unique, every device's sequence without a gap from 1 and in order,
/// every `prev` the hash before it, opened first and under the bundle's structure and protocol, signed, each
/// signature over the entry before it and by someone who is not a doer. `place` begins the Problem's place.
[[nodiscard]] model::Done check_entries(const Bundle& bundle, const std::vector<model::Entry>& entries,
                                        const std::string& place);

} // namespace crossarm::bundle
