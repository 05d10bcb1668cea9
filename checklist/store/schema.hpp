// Tables of the store, and the steps from one schema to the next.
#pragma once

#include "checklist/store/database.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace crossarm::store {

/// Stands in the file's header (offset 68) and says that it is a store of this program.
constexpr std::int64_t kApplicationId = 0x5841524D;

/// One step: the SQL that leads from schema number `to` - 1 to `to`. Steps only add: what was recorded is
/// never dropped or changed by one.
struct Migration {
    std::int64_t to;
    const char* sql;
};

/// Every step there is, in order, from 1. The last one's number is the schema this program knows.
[[nodiscard]] const std::vector<Migration>& migrations();
[[nodiscard]] std::int64_t newest_schema();

/// Takes the steps that the file still lacks, each in its own transaction, and sets user_version with it.
/// True when any was taken: the rebuilt tables must then be made again. Throws DiskFault.
bool migrate(Database& database, const std::vector<Migration>& steps);

/// The tables that can be dropped and made again from the fixed ones.
void drop_rebuilt_tables(Database& database);
void make_rebuilt_tables(Database& database);

} // namespace crossarm::store
