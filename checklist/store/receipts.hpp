// What the office has said about this tablet's bundles.
#pragma once

#include "checklist/model/receipt.hpp"
#include "checklist/model/result.hpp"
#include "checklist/store/database.hpp"
#include "checklist/store/store.hpp"

#include <string>
#include <vector>

namespace crossarm::store {

/// See Store::take_receipt. Throws DiskFault, as all below.
[[nodiscard]] model::Result<ReceiptNews> keep_receipt(Database& database, const std::string& device,
                                                      const ReceiptRow& row);
/// See Store::written_elsewhere.
[[nodiscard]] std::vector<model::NumberedDigest> read_written_elsewhere(Database& database);

/// See Store::droppable and Store::drop.
[[nodiscard]] std::vector<std::string> read_droppable(Database& database, model::Timestamp now);
[[nodiscard]] model::Done drop_bytes(Database& database, const std::vector<std::string>& digests,
                                     model::Timestamp now);

} // namespace crossarm::store
