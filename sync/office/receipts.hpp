// What the office tells a tablet about its bundles.
#pragma once

#include "checklist/model/receipt.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "sync/office/office_store.hpp"

#include <string>
#include <vector>

namespace crossarm::office {

/// The receipt for a tablet at this moment, and its number is used up. It lists the bundles that were taken
/// in the last 90 days and those that no head vouches for, and what is held back of the files that a key of
/// this tablet sealed.
[[nodiscard]] model::Result<model::Receipt> make_receipt(const OfficeStore& store, const std::string& device,
                                                         const std::string& office, model::Timestamp now);

/// The same as a file, sealed with the office's key.
[[nodiscard]] model::Result<std::string> make_receipt_file(const OfficeStore& store,
                                                           const std::string& device,
                                                           const std::string& office, model::Timestamp now);

/// One for every tablet that is enrolled and not revoked, for the day pack.
[[nodiscard]] model::Result<std::vector<std::string>>
make_receipt_files(const OfficeStore& store, const std::string& office, model::Timestamp now);

} // namespace crossarm::office
