// How every connection to a store is set up.
#pragma once

#include "checklist/store/database.hpp"

namespace crossarm::store {

/// Exclusive lock before the first access (a second opener is refused, and there is no shared memory that a
/// second writer could disturb), write-ahead log, a sync after each commit, foreign keys. What matters is
/// read back. Throws DiskFault: code SQLITE_BUSY when another program holds the file, SQLITE_NOTADB or
/// SQLITE_CORRUPT when it cannot be read.
void apply_settings(Database& database);

} // namespace crossarm::store
