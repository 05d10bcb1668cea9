// Making a store: it is there whole or not at all.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/store/store.hpp"

#include <string>

namespace crossarm::store {

/// Makes an empty store under a temporary name in the same folder, and gives it its name when it is whole and
/// on the disk. Problem when remains of another store lie there (its log, or a head file that knows of
/// entries) or a file appeared meanwhile; throws DiskFault.
[[nodiscard]] model::Done make_store(const std::string& path, const RandomBytes& random);

/// When a file was made, by its own date: this room has no clock.
[[nodiscard]] model::Timestamp birth_of(const std::string& path);

} // namespace crossarm::store
