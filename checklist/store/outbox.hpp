// Finished bundles: numbered, kept byte for byte, and how far each has come.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/store/database.hpp"
#include "checklist/store/store.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace crossarm::store {

using MakeBundle = std::function<model::Result<Store::MadeBundle>(std::int64_t seq, const std::string& prev)>;

/// See Store::keep_bundle. Throws DiskFault.
[[nodiscard]] model::Result<OutboxRow> keep_made_bundle(Database& database, const model::Id& visit,
                                                        model::Timestamp at, std::int64_t life,
                                                        const Store::Wanted& wanted, const MakeBundle& make);
/// The newest closed one.
[[nodiscard]] std::optional<OutboxRow> newest_bundle_of(Database& database, const model::Id& visit);
/// The bundle with the highest number, without its bytes.
[[nodiscard]] std::optional<OutboxRow> last_bundle(Database& database);
/// All of them by number, without bytes.
[[nodiscard]] std::vector<OutboxRow> read_outbox(Database& database);
/// Nothing when there is no bundle with that digest; empty when its bytes were dropped.
[[nodiscard]] std::optional<std::string> bytes_of_bundle(Database& database, const std::string& digest);
/// Digest of the bundle with that number; nothing when there is none.
[[nodiscard]] std::optional<std::string> digest_at(Database& database, std::int64_t seq);
/// See Store::mark_bundle.
[[nodiscard]] model::Done mark(Database& database, const std::string& digest, HandOver state,
                               const std::string& file);

} // namespace crossarm::store
