// The journal: the one place that appends entries, and where they are read back.
#pragma once

#include "checklist/model/ids.hpp"
#include "checklist/store/chain.hpp"
#include "checklist/store/database.hpp"
#include "checklist/store/store.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::store {

/// A new id from a moment and ten random bytes. A moment that no entry can have counts as 1970.
[[nodiscard]] model::Id make_id(model::IdMaker& ids, const RandomBytes& random, model::Timestamp now);

/// Who writes: the tablet's name and its source of ids.
struct Pen {
    std::string device;
    RandomBytes random;
    model::IdMaker ids;
};

/// Whether a moment can stand in an entry: 1970 to 9999, offset within a day.
[[nodiscard]] bool is_usable(model::Timestamp at);
/// What is said of a moment that cannot.
[[nodiscard]] model::Problem bad_clock();

/// Appends `bodies` in one transaction: id, sequence and link are made here; each row is read back and hashed
/// again before the commit; the visit index follows in the same transaction. Returns after the disk has it.
/// Problem when `at` is not usable; throws DiskFault.
[[nodiscard]] model::Result<std::vector<Kept>> append_entries(Database& database, Pen& pen,
                                                              const model::Id& visit,
                                                              const std::vector<model::Body>& bodies,
                                                              model::Timestamp at, const std::string& by);

/// A visit's entries of every device, by device and sequence, each checked along the chain; with texts.
struct ReadVisit {
    std::vector<model::Entry> entries;
    std::vector<std::string> texts;
};
[[nodiscard]] model::Result<ReadVisit> read_visit(Database& database, const model::Id& visit,
                                                  const std::string& store);

/// Follows the chain of every visit in the store.
[[nodiscard]] model::Done verify_journal(Database& database, const std::string& store);

/// This device's last entry in a visit.
[[nodiscard]] std::optional<Row> last_of(Database& database, const model::Id& visit,
                                         const std::string& device);
/// The entry that this device appended last, in whatever visit.
[[nodiscard]] std::optional<Row> last_appended(Database& database, const std::string& device);
/// Hash of one entry; nothing when there is no such entry.
[[nodiscard]] std::optional<std::string> hash_at(Database& database, const model::Id& visit,
                                                 const std::string& device, std::int64_t seq);

} // namespace crossarm::store
