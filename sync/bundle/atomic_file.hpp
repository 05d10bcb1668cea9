// Files that are there whole or not at all.
#pragma once

#include "checklist/model/result.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>

namespace crossarm::bundle {

/// Writes `bytes` to `path`: temporary name in the same folder, fsync, read back and compare, rename, fsync
/// of the folder. On a Problem nothing is left under `path` that was not there before; only when the very
/// last step fails (fsync of the folder) may the new file already stand there, whole.
[[nodiscard]] model::Done write_atomically(const std::string& path, std::string_view bytes);

/// The same piece by piece, for what does not fit into memory at once: `next` gives the following piece, ""
/// at the end, or the Problem that stops it.
using NextPiece = std::function<model::Result<std::string>()>;
[[nodiscard]] model::Done write_atomically(const std::string& path, const NextPiece& next);

/// Reads a regular file of at most `most` bytes.
[[nodiscard]] model::Result<std::string> read_whole(const std::string& path,
                                                    std::size_t most = 64U * 1024U * 1024U);

} // namespace crossarm::bundle
