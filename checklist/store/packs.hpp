// Day packs as they were loaded; the newest one counts, older ones stay.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/store/database.hpp"
#include "checklist/store/store.hpp"

#include <optional>

namespace crossarm::store {

/// See Store::keep_day_pack. Throws DiskFault.
[[nodiscard]] model::Done keep_pack(Database& database, const PackRow& pack);
[[nodiscard]] std::optional<PackRow> newest_pack(Database& database);

} // namespace crossarm::store
