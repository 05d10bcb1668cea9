// Whether an opened store is whole, and what to say when it is not.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/store/database.hpp"
#include "checklist/store/head_file.hpp"

#include <string>

namespace crossarm::store {

/// The last entry and the last bundle of this tablet, as the head file should have them.
[[nodiscard]] Head head_of(Database& database);

/// Checks, in this order: the schema is not newer than ours; after an unclean close the pages (quick_check);
/// foreign keys; the chain of every visit; everything that the head file knows is there. When the head file
/// knows more, the log is copied aside first. Writes nothing into the store. Throws DiskFault.
[[nodiscard]] model::Done verify_store(Database& database, const std::string& path, bool closed_cleanly);

/// What a fault while opening means to a person.
[[nodiscard]] model::Problem opening_problem(const std::string& path, const DiskFault& fault);

} // namespace crossarm::store
