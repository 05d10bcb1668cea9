// Where a store may lie, and what lies there already: looked at without SQLite touching anything.
#pragma once

#include "checklist/model/result.hpp"

#include <cstdint>
#include <string>

namespace crossarm::store {

/// The path with its folder's links resolved. Problem when the folder is not there.
[[nodiscard]] model::Result<std::string> settle_path(const std::string& path);

/// Problem when the file system with this statfs(2) type number is one of sticks (vfat, exfat) or of a
/// network (nfs, smb): their locks and syncs cannot be trusted with a journal. What hides behind FUSE is not
/// seen.
[[nodiscard]] model::Done check_filesystem(const std::string& path, std::uint64_t type);
/// The type number of the folder that `path` lies in; 0 when it cannot be asked.
[[nodiscard]] std::uint64_t filesystem_of(const std::string& path);

enum class There { Nothing, Store };
/// What lies at `path`. Problem when it is something else than a store of this program, or a store of a newer
/// version. Nothing is written, no lock is taken or lost.
[[nodiscard]] model::Result<There> look_at(const std::string& path);

/// The refusal of a store whose schema number is greater than ours.
[[nodiscard]] model::Problem newer_schema(const std::string& path, std::int64_t schema);

/// Size of a file in bytes, 0 when there is none.
[[nodiscard]] std::uint64_t size_of(const std::string& path);

/// Takes the rights of everyone but the owner away from the store and its log (mode 0600): they hold secret
/// keys. Files that SQLite makes beside it later get the same rights. A file system without rights is left as
/// it is.
void keep_private(const std::string& path);

} // namespace crossarm::store
