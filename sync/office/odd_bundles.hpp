// Bundles that are odd in their tablet's row: noted as they come, so that no intake has to look at all of
// them.
#pragma once

#include "checklist/store/database.hpp"
#include "sync/office/office_store.hpp"

#include <vector>

namespace crossarm::office {

/// The rows of a statement that answers digest, device, life, seq, prev, visit.
[[nodiscard]] std::vector<BundleRow> rows_of(store::Statement& statement);

/// After `bundle` was put into its table, in the same transaction. Throws store::DiskFault.
void note_odd(store::Database& database, const BundleRow& bundle);
/// Those that name a bundle before them which is not here, and those that share their number with another; by
/// device, life, sequence and digest. Throws store::DiskFault.
[[nodiscard]] std::vector<BundleRow> odd_ones(store::Database& database);

} // namespace crossarm::office
