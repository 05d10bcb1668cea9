// What the entries of a bundle must be, whatever they say: a whole chain of one visit.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/result.hpp"
#include "sync/bundle/bundle.hpp"

#include <string>
#include <vector>

namespace crossarm::bundle {

/// Checks, in this order: one visit, ids unique, every device's sequence without a gap from 1 and in order,
/// every `prev` the hash before it, opened first and under the bundle's structure and protocol, signed, each
/// signature over the entry before it and by someone who is not a doer. An open bundle need not be signed. An
/// amendment may hold the new entries only: each device's begin anywhere, and name an entry before them; it
/// need not open the visit again, entries may follow an earlier signature, and the last ones are signed
/// again. Whether it joins what the office holds is seen when all entries of the visit are folded there.
/// `hashes` are those of the entries' texts; `place` begins the Problem's place.
[[nodiscard]] model::Done check_entries(const Bundle& bundle, const std::vector<model::Entry>& entries,
                                        const std::vector<std::string>& hashes, const std::string& place);

} // namespace crossarm::bundle
