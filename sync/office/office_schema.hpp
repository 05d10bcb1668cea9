// Tables of the office's store.
#pragma once

#include "checklist/store/database.hpp"
#include "checklist/store/schema.hpp"

#include <cstdint>
#include <vector>

namespace crossarm::office {

/// Stands in the file's header and says that it is an office store: "XOFC".
constexpr std::int64_t kOfficeApplicationId = 0x584F4643;

[[nodiscard]] const std::vector<store::Migration>& office_migrations();
[[nodiscard]] std::int64_t newest_office_schema();

} // namespace crossarm::office
