// A second copy of a store, whole and looked at before anybody is told that there is one.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/store/database.hpp"

#include <functional>
#include <string>

namespace crossarm::store {

/// Copies the open database to `path` while it stays in use: SQLite's online backup into a temporary name
/// beside it, then SQLite's full check and `verify` on the copy, opened anew; then sync, its name, sync of
/// the folder. `path` must not be there yet: a backup never takes the place of another. Problem (nothing is
/// left under `path`) when anything of that fails. Throws DiskFault when the open database does.
/// The copy holds the secret keys too (file mode 0600): keep it where the store itself might lie.
[[nodiscard]] model::Done back_up(Database& from, const std::string& path,
                                  const std::function<model::Done(Database& copy)>& verify);

} // namespace crossarm::store
