// What can still be read of a damaged store, tablet's or office's: entries and bundles come out as files,
// with a report of what is missing. The store itself is not written to.
#pragma once

#include "checklist/model/result.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace crossarm::office {

struct Salvaged {
    std::size_t entries = 0;         ///< different ones, each whole
    std::size_t bundles = 0;         ///< whose digest is right
    std::size_t only_in_pages = 0;   ///< entries that SQLite did not give, found in the bytes of the file
    bool tables_read = false;        ///< false: SQLite could not even ask, the bytes alone had to do
    std::vector<std::string> breaks; ///< where a chain is broken, in words
};

/// Copies the store with its log into `out`, reads the copy through SQLite as far as that goes, row by row,
/// and then looks through the bytes of file and log for entries. Writes `out`/entries.jsonl (canonical text
/// of every entry, one a line, by visit, device and sequence), `out`/bundles/<digest>.json and
/// `out`/report.txt. An entry counts when its text is canonical and whole; that it is unchanged is what the
/// chain says: the report names every entry that is missing and every link that does not hold. Problem when
/// `out` is there already or cannot be written, or nothing at all could be read.
[[nodiscard]] model::Result<Salvaged> salvage(const std::string& store, const std::string& out);

} // namespace crossarm::office
