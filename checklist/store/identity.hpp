// The tablet's secret key and life, and the office keys that it trusts.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/store/database.hpp"
#include "checklist/store/store.hpp"

#include <optional>
#include <vector>

namespace crossarm::store {

/// Makes the first identity when there is none yet. The moment is a date of the store's own: this room has no
/// clock. Throws DiskFault, as all below.
void make_first_identity(Database& database, const RandomBytes& random, model::Timestamp at);
/// The newest life.
[[nodiscard]] Identity read_identity(Database& database);
/// See Store::begin_life.
[[nodiscard]] model::Result<Identity> next_identity(Database& database, const RandomBytes& random,
                                                    model::Timestamp at);

/// See Store::pin.
[[nodiscard]] model::Done keep_pin(Database& database, const PinnedKey& key);
[[nodiscard]] std::vector<PinnedKey> read_pins(Database& database);

} // namespace crossarm::store
