// The index of visits: a rebuilt table that says what there is without reading the journal.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/result.hpp"
#include "checklist/store/database.hpp"
#include "checklist/store/store.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace crossarm::store {

/// Takes one more entry into the index; `place` is where the journal has it. Inside the transaction that
/// appends the entry.
void note_in_index(Database& database, const model::Entry& entry, std::int64_t place);

/// Drops the index and makes it again from the journal, in one transaction. Problem when an entry's text
/// cannot be read; throws DiskFault. Either way the old index stays.
[[nodiscard]] model::Done rebuild_index(Database& database, const std::string& store);

/// In the order in which the visits were opened on this tablet.
[[nodiscard]] std::vector<VisitRow> read_index(Database& database);

} // namespace crossarm::store
