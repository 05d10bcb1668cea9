#include "sync/office/salvage.hpp"

#include "checklist/model/entry.hpp"
#include "checklist/store/database.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/seal/frame.hpp"

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>
#include <system_error>
#include <tuple>

namespace crossarm::office {

namespace {

namespace fs = std::filesystem;
using model::Done;
using model::Problem;
using store::Database;
using store::DiskFault;
using store::Statement;

constexpr std::size_t kMostStoreBytes = 8ULL * 1024 * 1024 * 1024;
constexpr std::size_t kMostEntryBytes = 256U * 1024U;
constexpr std::string_view kEntryHead = R"({"at":"2)"; // canonical text sorts "at" first

struct Found {
    std::map<std::string, model::Entry> entries; ///< by text
    std::map<std::string, std::string> bundles;  ///< by digest

    bool entry(const std::string& text) {
        auto read = model::read_entry(text, "salvage");
        if (!read || model::to_canonical(*read) != text) {
            return false;
        }
        return entries.emplace(text, std::move(read).value()).second;
    }
    void bundle(const std::string& bytes) {
        if (const auto opened = seal::find_body(bytes, "salvage", seal::Kind::Bundle)) {
            bundles.emplace(opened->seal.digest, bytes);
        }
    }
};

/// Asks for one row after the other; a page that cannot be read costs the rows on it.
template<typename Take>
void read_rows(Database& database, const std::string& table, const std::string& column, const Take& take) {
    std::int64_t last = 0;
    try {
        last = database.number("SELECT max(rowid) FROM " + table);
    } catch (const DiskFault&) {
        last = 1'000'000; // its right edge is gone: ask for what a large store might have
    }
    int misses = 0;
    for (std::int64_t row = 1; row <= last && misses < 100'000; ++row) {
        try {
            Statement one(database, "SELECT " + column + " FROM " + table + " WHERE rowid = ?1");
            one.bind(1, row);
            if (one.step()) {
                take(one.text(0));
                misses = 0;
                continue;
            }
        } catch (const DiskFault&) {
            ++misses; // the next row may lie on another page
            continue;
        }
        ++misses;
    }
}

bool read_tables(const std::string& path, Found& found) {
    try {
        Database database(path, Database::Make::No);
        database.leave_log_on_close(true);
        database.run("PRAGMA locking_mode=EXCLUSIVE");
        read_rows(database, "entry", "text", [&](const std::string& text) { found.entry(text); });
        read_rows(database, "outbox", "bytes", [&](const std::string& bytes) { found.bundle(bytes); });
        read_rows(database, "bundle", "raw", [&](const std::string& bytes) { found.bundle(bytes); });
        return true;
    } catch (const DiskFault&) {
        return false;
    }
}

/// The end of the JSON object that begins at `from`; npos when it does not end.
std::size_t end_of_object(std::string_view bytes, std::size_t from) {
    int depth = 0;
    bool in_text = false;
    for (std::size_t i = from; i < std::min(bytes.size(), from + kMostEntryBytes); ++i) {
        const char c = bytes[i];
        if (in_text) {
            i += c == '\\' ? 1U : 0U;
            in_text = c != '"';
        } else if (c == '"') {
            in_text = true;
        } else if (c == '{') {
            ++depth;
        } else if (c == '}' && --depth == 0) {
            return i + 1;
        }
    }
    return std::string_view::npos;
}

std::size_t look_through(const std::string& path, Found& found) {
    const auto bytes = bundle::read_whole(path, kMostStoreBytes);
    if (!bytes) {
        return 0;
    }
    std::size_t more = 0;
    for (std::size_t at = bytes->find(kEntryHead); at != std::string::npos;
         at = bytes->find(kEntryHead, at + 1)) {
        const std::size_t end = end_of_object(*bytes, at);
        if (end != std::string_view::npos && found.entry(bytes->substr(at, end - at))) {
            ++more;
        }
    }
    return more;
}

using Sorted = std::vector<std::pair<const std::string*, const model::Entry*>>;

Sorted sorted(const Found& found) {
    Sorted out;
    for (const auto& [text, entry] : found.entries) {
        out.emplace_back(&text, &entry);
    }
    std::ranges::sort(out, [](const auto& a, const auto& b) {
        return std::tie(a.second->visit, a.second->device, a.second->seq, *a.first) <
               std::tie(b.second->visit, b.second->device, b.second->seq, *b.first);
    });
    return out;
}

std::vector<std::string> breaks_of(const Sorted& entries) {
    std::vector<std::string> breaks;
    std::set<std::string> hashes = {""};
    for (const auto& [text, entry] : entries) {
        hashes.insert(model::hash_of(*text));
    }
    const model::Entry* before = nullptr;
    for (const auto& [text, entry] : entries) {
        const bool same =
            before != nullptr && before->visit == entry->visit && before->device == entry->device;
        const std::int64_t expected = same ? before->seq + 1 : 1;
        const std::string where = "visit " + model::to_text(entry->visit) + ", tablet " + entry->device;
        if (entry->seq > expected) {
            breaks.push_back(where + ": entries " + std::to_string(expected) + " to " +
                             std::to_string(entry->seq - 1) + " are missing");
        } else if (entry->seq < expected) {
            breaks.push_back(where + ": entry " + std::to_string(entry->seq) + " is there more than once");
        } else if (!hashes.contains(entry->prev)) {
            breaks.push_back(where + ": entry " + std::to_string(entry->seq) +
                             " names another entry before it than the one that is here");
        }
        before = entry;
    }
    return breaks;
}

Done copy_aside(const std::string& store, const std::string& out) {
    std::error_code failed;
    if (fs::exists(out, failed)) {
        return Problem{out, "is there already", "name a folder that is not there yet"};
    }
    fs::create_directories(out + "/bundles", failed);
    if (!failed) {
        fs::copy_file(store, out + "/copy.store", failed);
    }
    if (failed) {
        return Problem{store, "cannot be copied to " + out + ": " + failed.message(),
                       "check the names and the room there"};
    }
    fs::copy_file(store + "-wal", out + "/copy.store-wal", failed); // there need not be a log
    return {};
}

Done write_all(const std::string& out, const Found& found, const Sorted& entries, const Salvaged& salvaged) {
    std::string lines;
    for (const auto& [text, entry] : entries) {
        lines += *text + "\n";
    }
    std::string report = std::to_string(salvaged.entries) + " entries, " +
                         std::to_string(salvaged.only_in_pages) +
                         " of them found only in the bytes of the file; " + std::to_string(salvaged.bundles) +
                         " whole bundles\n";
    report += salvaged.tables_read ? "" : "SQLite could not read the file as a store\n";
    for (const std::string& one : salvaged.breaks) {
        report += one + "\n";
    }
    report += salvaged.breaks.empty() ? "no chain is broken between the entries that are here; entries "
                                        "after the last one of a visit could be missing\n"
                                      : "";
    for (const auto& [digest, bytes] : found.bundles) {
        if (auto written = bundle::write_atomically(out + "/bundles/" + digest + ".json", bytes); !written) {
            return written;
        }
    }
    if (auto written = bundle::write_atomically(out + "/entries.jsonl", lines); !written) {
        return written;
    }
    return bundle::write_atomically(out + "/report.txt", report);
}

} // namespace

model::Result<Salvaged> salvage(const std::string& store, const std::string& out) {
    if (auto copied = copy_aside(store, out); !copied) {
        return copied.problem();
    }
    Found found;
    const std::string copy = out + "/copy.store";
    Salvaged salvaged;
    // First the bytes as they are: reading through SQLite may mend and so change the copy.
    Found in_pages;
    look_through(copy, in_pages);
    look_through(copy + "-wal", in_pages);
    salvaged.tables_read = read_tables(copy, found);
    for (const auto& [text, entry] : in_pages.entries) {
        salvaged.only_in_pages += found.entry(text) ? 1U : 0U;
    }
    const Sorted entries = sorted(found);
    salvaged.entries = entries.size();
    salvaged.bundles = found.bundles.size();
    salvaged.breaks = breaks_of(entries);
    if (auto written = write_all(out, found, entries, salvaged); !written) {
        return written.problem();
    }
    for (const char* tail : {"", "-wal", "-journal"}) {
        std::error_code ignored;
        fs::remove(copy + tail, ignored);
    }
    if (salvaged.entries == 0 && salvaged.bundles == 0) {
        return Problem{store, "nothing in it could be read", "is it a store of this program at all?"};
    }
    return salvaged;
}

} // namespace crossarm::office
