#include "sync/office/office_store.hpp"

#include "checklist/model/digest.hpp"
#include "checklist/store/backup.hpp"
#include "checklist/store/blobs.hpp"
#include "checklist/store/head_file.hpp"
#include "checklist/store/place.hpp"
#include "checklist/store/settings.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/office/odd_bundles.hpp"
#include "sync/office/office_schema.hpp"
#include "sync/seal/frame.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <optional>
#include <utility>

namespace crossarm::office {

namespace {

using model::Problem;
using model::Result;
using store::bytes_of;
using store::Database;
using store::DiskFault;
using store::id_of;
using store::Statement;
using store::Transaction;

constexpr const char* kCloseTheOther = "close the other crossarm-office, or wait until it is done";
constexpr const char* kRestore = "put the newest backup in its place and take the bundles in again";

Problem fault_problem(const std::string& path, const DiskFault& fault) {
    switch (fault.code()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return {path, "another program holds the office store at this moment", kCloseTheOther};
    case SQLITE_NOTADB:
        return {path, "it is not an office store: it is a file of another kind",
                "give the store another name, or move that file away"};
    case SQLITE_CORRUPT:
        return {path, std::string("the office store is damaged (") + fault.what() + ")", kRestore};
    case SQLITE_FULL:
        return {path, "the disk is full", "make room, then take the bundles in again"};
    case SQLITE_CANTOPEN:
        return {path, "the office store cannot be opened", "check the name, the folder and its permissions"};
    default:
        return {path, std::string("the disk does not do what it should (") + fault.what() + ")",
                "check the disk, then take the bundles in again"};
    }
}

/// Refuses what is not ours before anything is written.
model::Done check_header(Database& database, const std::string& path) {
    database.run("PRAGMA locking_mode=EXCLUSIVE");
    const std::int64_t application = database.number("PRAGMA application_id");
    const bool is_empty = database.number("SELECT count(*) FROM sqlite_schema") == 0;
    if (application != kOfficeApplicationId && !(application == 0 && is_empty)) {
        return Problem{path, "it is not an office store: it is a database of another program",
                       "give the store another name, or move that file away"};
    }
    const std::int64_t schema = database.number("PRAGMA user_version");
    if (schema > newest_office_schema()) {
        return Problem{path,
                       "it was made by a newer version of this program (schema " + std::to_string(schema) +
                           ", this one knows up to " + std::to_string(newest_office_schema()) + ")",
                       "open it with the newer version; nothing was changed"};
    }
    return {};
}

/// Takes every entry, or says which one is here with other content.
model::Done keep_entries(Database& database, const bundle::ReadBundle& read, const std::string& path) {
    Statement insert(database,
                     "INSERT INTO entry (id, visit, device, seq, text, hash) VALUES (?1, ?2, ?3, ?4, ?5, ?6) "
                     "ON CONFLICT (id) DO NOTHING");
    for (std::size_t i = 0; i < read.entries.size(); ++i) {
        const model::Entry& entry = read.entries[i];
        const std::string& text = read.bundle.entries[i];
        const std::string& hash = read.hashes[i];
        insert.bind_blob(1, bytes_of(entry.id)).bind_blob(2, bytes_of(entry.visit)).bind(3, entry.device);
        insert.bind(4, entry.seq).bind(5, text).bind(6, hash).finish();
        if (sqlite3_changes64(database.handle()) == 0) {
            Statement known(database, "SELECT hash FROM entry WHERE id = ?1");
            known.bind_blob(1, bytes_of(entry.id));
            if (!known.step() || known.text(0) != hash) {
                return Problem{
                    path + ": /body/entries/" + std::to_string(i),
                    "entry " + model::to_text(entry.id) +
                        " is in the office store already, with other content",
                    "ask who wrote the two bundles; one of them was made or changed by hand, or two "
                    "tablets share one identity"};
            }
        }
    }
    return {};
}

/// Whether the bytes of a bundle's row are these. Piece by piece: they may be many.
bool reads_back(Database& database, std::int64_t row, std::string_view raw) {
    const auto check = [&database](int code) {
        if (code != SQLITE_OK) {
            throw DiskFault(code & 0xff, sqlite3_errmsg(database.handle()));
        }
    };
    sqlite3_blob* opened = nullptr;
    check(sqlite3_blob_open(database.handle(), "main", "bundle", "raw", row, /*flags=*/0, &opened));
    const std::unique_ptr<sqlite3_blob, decltype(&sqlite3_blob_close)> blob(opened, &sqlite3_blob_close);
    if (static_cast<std::size_t>(sqlite3_blob_bytes(opened)) != raw.size()) {
        return false;
    }
    std::array<char, 64U * 1024U> piece{};
    for (std::size_t at = 0; at < raw.size(); at += piece.size()) {
        const std::size_t size = std::min(piece.size(), raw.size() - at);
        check(sqlite3_blob_read(opened, piece.data(), static_cast<int>(size), static_cast<int>(at)));
        if (std::memcmp(piece.data(), raw.data() + at, size) != 0) {
            return false;
        }
    }
    return true;
}

/// The last bundle that was taken, as the head file has it; the number is the row's, counted from 1.
store::Head head_of(Database& database) {
    store::Head head;
    head.device = model::to_text(model::Id{});
    Statement last(database, "SELECT rowid, digest FROM bundle ORDER BY rowid DESC LIMIT 1");
    if (last.step()) {
        head.bundle_seq = last.number(0);
        head.bundle_digest = last.text(1);
    }
    return head;
}

/// A head file that knows a bundle which the store does not have: commits were lost in a damaged log.
model::Done check_head(Database& database, const std::string& path) {
    const auto head = store::load_head(path + ".head");
    if (!head || head->bundle_seq == 0) {
        return {};
    }
    Statement known(database, "SELECT 1 FROM bundle WHERE rowid = ?1 AND digest = ?2");
    known.bind(1, head->bundle_seq).bind(2, head->bundle_digest);
    if (known.step()) {
        return {};
    }
    return Problem{path,
                   "bundles are missing: its head file knows of bundle " + head->bundle_digest.substr(0, 8) +
                       ", the store does not have it",
                   "keep the store with its log and head file; put the newest backup in its place, move the "
                   "head file away and take the bundles in again"};
}

/// Every bundle and every entry is what its digest says.
model::Done check_digests(Database& database, const std::string& path) {
    const auto damaged = [&path](const std::string& what) {
        return Problem{path, "the copy is not what the store holds: " + what, kRestore};
    };
    Statement bundles(database, "SELECT digest, raw FROM bundle");
    while (bundles.step()) {
        const std::string raw = bundles.text(1);
        const auto found = seal::find_body(raw, path, seal::Kind::Bundle);
        if (!found || found->seal.digest != bundles.text(0)) {
            return damaged("bundle " + bundles.text(0).substr(0, 8) + " was changed");
        }
    }
    Statement entries(database, "SELECT text, hash FROM entry");
    while (entries.step()) {
        if (model::hash_of(entries.text(0)) != entries.text(1)) {
            return damaged("an entry was changed");
        }
    }
    return {};
}

} // namespace

struct OfficeStore::Inside {
    std::string path;
    Database database;
    store::HeadFile head_file;
    store::Head head;
    std::optional<Problem> fault = std::nullopt;

    /// After a fault the connection is not trusted any more: the log stays as it is, and every later call
    /// says the same.
    template<typename Work>
    auto guarded(const Work& work) -> decltype(work()) {
        if (fault) {
            return *fault;
        }
        try {
            return work();
        } catch (const DiskFault& disk_fault) {
            fault = fault_problem(path, disk_fault);
            database.abandon();
            return *fault;
        }
    }
};

OfficeStore::OfficeStore(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
OfficeStore::OfficeStore(OfficeStore&&) noexcept = default;
OfficeStore& OfficeStore::operator=(OfficeStore&&) noexcept = default;
OfficeStore::~OfficeStore() = default;

const std::string& OfficeStore::path() const {
    return inside_->path;
}

Result<OfficeStore> OfficeStore::open(const std::string& path, Make make) {
    const auto settled = store::settle_path(path);
    if (!settled) {
        return settled.problem();
    }
    if (auto place = store::check_filesystem(*settled, store::filesystem_of(*settled)); !place) {
        return place.problem();
    }
    try {
        const bool closed_cleanly = store::size_of(*settled + "-wal") == 0;
        Database database(*settled, make == Make::Yes ? Database::Make::Yes : Database::Make::No);
        store::keep_private(*settled);
        database.leave_log_on_close(true);
        if (auto ours = check_header(database, *settled); !ours) {
            return ours.problem();
        }
        store::apply_settings(database);
        if (database.number("PRAGMA application_id") == 0) {
            if (make == Make::No) {
                return Problem{*settled, "it is empty, not an office store",
                               "take bundles in first: crossarm-office intake"};
            }
            database.run("PRAGMA application_id=" + std::to_string(kOfficeApplicationId));
        }
        store::migrate(database, office_migrations());
        if (!closed_cleanly) {
            if (const std::string answer = database.text("PRAGMA quick_check(1)"); answer != "ok") {
                throw DiskFault(SQLITE_CORRUPT, answer);
            }
        }
        if (auto whole = check_head(database, *settled); !whole) {
            return whole.problem();
        }
        database.leave_log_on_close(false);
        auto head_file = store::HeadFile::open(*settled + ".head");
        if (!head_file) {
            return head_file.problem();
        }
        store::Head head = head_of(database);
        head_file->write(head);
        return OfficeStore(std::make_unique<Inside>(
            Inside{*settled, std::move(database), std::move(head_file).value(), std::move(head)}));
    } catch (const DiskFault& fault) {
        return fault_problem(*settled, fault);
    }
}

Result<Taking> OfficeStore::take(const bundle::ReadBundle& read, std::string_view raw, model::Timestamp at) {
    Database& database = inside_->database;
    return inside_->guarded([&]() -> Result<Taking> {
        Transaction transaction(database);
        Statement insert(
            database,
            "INSERT INTO bundle (digest, device, life, seq, prev, visit, raw, taken_ms, taken_offset) "
            "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9) ON CONFLICT (digest) DO NOTHING");
        const bundle::Bundle& bundle = read.bundle;
        insert.bind(1, read.digest).bind(2, bundle.device).bind(3, bundle.life).bind(4, bundle.seq);
        insert.bind(5, bundle.prev).bind_blob(6, bytes_of(bundle.visit)).bind_large(7, raw);
        insert.bind(8, at.utc_ms).bind(9, at.offset_minutes).finish();
        if (sqlite3_changes64(database.handle()) == 0) {
            return Taking{Taking::Kind::AlreadyHere, {}};
        }
        const std::int64_t row = sqlite3_last_insert_rowid(database.handle());
        if (auto kept = keep_entries(database, read, "bundle " + read.digest.substr(0, 8)); !kept) {
            return Taking{Taking::Kind::Refused, kept.problem()};
        }
        note_odd(database, {read.digest, bundle.device, bundle.life, bundle.seq, bundle.prev, bundle.visit});
        if (!reads_back(database, row, raw)) {
            return Problem{inside_->path, "the bundle reads back other than it was written",
                           "the disk is faulty: use another one"};
        }
        transaction.commit();
        inside_->head.bundle_seq = row;
        inside_->head.bundle_digest = read.digest;
        inside_->head_file.write(inside_->head);
        return Taking{Taking::Kind::Taken, {}};
    });
}

bool OfficeStore::is_held_by_another(const Problem& problem) {
    return problem.remedy == kCloseTheOther;
}

model::Done OfficeStore::work(const std::function<model::Done(store::Database&)>& work) const {
    return inside_->guarded([&] { return work(inside_->database); });
}

Result<std::vector<BundleRow>> OfficeStore::bundles() const {
    return inside_->guarded([&]() -> Result<std::vector<BundleRow>> {
        Statement rows(inside_->database, "SELECT digest, device, life, seq, prev, visit FROM bundle "
                                          "ORDER BY device, life, seq, digest");
        return rows_of(rows);
    });
}

Result<std::vector<BundleRow>> OfficeStore::bundles_of(const model::Id& visit) const {
    return inside_->guarded([&]() -> Result<std::vector<BundleRow>> {
        Statement rows(inside_->database, "SELECT digest, device, life, seq, prev, visit FROM bundle "
                                          "WHERE visit = ?1 ORDER BY device, life, seq, digest");
        rows.bind_blob(1, bytes_of(visit));
        return rows_of(rows);
    });
}

Result<std::vector<BundleRow>> OfficeStore::orphans_and_doubles() const {
    return inside_->guarded([&]() -> Result<std::vector<BundleRow>> { return odd_ones(inside_->database); });
}

Result<bool> OfficeStore::has(const std::string& digest) const {
    return inside_->guarded([&]() -> Result<bool> {
        Statement known(inside_->database, "SELECT 1 FROM bundle WHERE digest = ?1");
        known.bind(1, digest);
        return known.step();
    });
}

Result<std::string> OfficeStore::raw(const std::string& digest) const {
    return inside_->guarded([&]() -> Result<std::string> {
        Statement rows(inside_->database, "SELECT raw FROM bundle WHERE digest = ?1");
        rows.bind(1, digest);
        if (!rows.step()) {
            return Problem{inside_->path, "no bundle has the digest " + bundle::in_quotes(digest),
                           "take the bundle in first"};
        }
        return rows.text(0);
    });
}

Result<std::vector<model::Id>> OfficeStore::visits() const {
    return inside_->guarded([&]() -> Result<std::vector<model::Id>> {
        Statement rows(inside_->database, "SELECT DISTINCT visit FROM bundle ORDER BY visit");
        std::vector<model::Id> out;
        while (rows.step()) {
            out.push_back(id_of(rows.text(0)));
        }
        return out;
    });
}

model::Done OfficeStore::back_up(const std::string& path) const {
    return inside_->guarded([&] {
        return store::back_up(inside_->database, path,
                              [&](Database& copy) { return check_digests(copy, path); });
    });
}

Result<std::vector<std::string>> OfficeStore::texts(const model::Id& visit) const {
    return inside_->guarded([&]() -> Result<std::vector<std::string>> {
        Statement rows(inside_->database,
                       "SELECT text, hash FROM entry WHERE visit = ?1 ORDER BY device, seq, id");
        rows.bind_blob(1, bytes_of(visit));
        std::vector<std::string> out;
        while (rows.step()) {
            out.push_back(rows.text(0));
            if (model::hash_of(out.back()) != rows.text(1)) {
                return Problem{inside_->path,
                               "an entry of visit " + model::to_text(visit) + " has been changed", kRestore};
            }
        }
        return out;
    });
}

model::Done each_text(const OfficeStore& store, const std::function<void(const std::string&)>& take) {
    const auto visits = store.visits();
    if (!visits) {
        return visits.problem();
    }
    for (const model::Id& visit : *visits) {
        const auto texts = store.texts(visit);
        if (!texts) {
            return texts.problem();
        }
        for (const std::string& text : *texts) {
            take(text);
        }
    }
    return {};
}

} // namespace crossarm::office
