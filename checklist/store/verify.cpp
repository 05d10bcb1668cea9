#include "checklist/store/verify.hpp"

#include "checklist/model/digest.hpp"
#include "checklist/store/journal.hpp"
#include "checklist/store/outbox.hpp"
#include "checklist/store/place.hpp"
#include "checklist/store/schema.hpp"

#include <sqlite3.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <system_error>

namespace crossarm::store {

namespace {

constexpr const char* kStop = "do not go on with this store; keep it with its log and head file, and tell "
                              "the office";

/// Copies the log to a name made from its content, so that the same log is copied once. The copy's name, or
/// nothing when there is no log or no room for a copy.
std::string copy_log_aside(const std::string& path) {
    std::ifstream log(path + "-wal", std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(log), std::istreambuf_iterator<char>()};
    if (bytes.empty()) {
        return "";
    }
    const std::string copy = path + "-wal.kept-" + model::sha256_hex(bytes).substr(0, 8);
    std::error_code error;
    std::filesystem::copy_file(path + "-wal", copy, std::filesystem::copy_options::skip_existing, error);
    return error ? "" : copy;
}

model::Done missing(const std::string& path, const std::string& what) {
    const std::string copy = copy_log_aside(path);
    return model::Problem{path, what + (copy.empty() ? "" : "; the log was copied to " + copy), kStop};
}

model::Done check_head(Database& database, const std::string& path) {
    const auto head = load_head(path + ".head");
    if (!head) {
        return {};
    }
    if (head->seq > 0 && hash_at(database, head->visit, head->device, head->seq) != head->hash) {
        return missing(path, "entries are missing: the head file knows entry " + std::to_string(head->seq) +
                                 " of visit " + model::to_text(head->visit) +
                                 ", the journal does not have it");
    }
    if (head->bundle_seq > 0 && digest_at(database, head->bundle_seq) != head->bundle_digest) {
        return missing(path, "a bundle is missing: the head file knows bundle " +
                                 std::to_string(head->bundle_seq) + ", the outbox does not have it");
    }
    return {};
}

} // namespace

Head head_of(Database& database) {
    Head head;
    head.device = database.text("SELECT device FROM tablet");
    if (const auto last = last_appended(database, head.device)) {
        head.visit = last->visit;
        head.seq = last->seq;
        head.hash = last->hash;
    }
    if (const auto bundle = last_bundle(database)) {
        head.bundle_seq = bundle->seq;
        head.bundle_digest = bundle->digest;
    }
    return head;
}

model::Done verify_store(Database& database, const std::string& path, bool closed_cleanly) {
    const std::int64_t schema = database.number("PRAGMA user_version");
    if (schema > newest_schema()) {
        return newer_schema(path, schema);
    }
    if (!closed_cleanly) {
        const std::string answer = database.text("PRAGMA quick_check(1)");
        if (answer != "ok") {
            return model::Problem{path, "the store is damaged: " + answer, kStop};
        }
    }
    if (Statement keys(database, "PRAGMA foreign_key_check"); keys.step()) {
        return model::Problem{path, "the store is damaged: a row of " + keys.text(0) + " refers to nothing",
                              kStop};
    }
    if (auto chains = verify_journal(database, path); !chains) {
        return chains;
    }
    return check_head(database, path);
}

model::Problem opening_problem(const std::string& path, const DiskFault& fault) {
    const std::string said = fault.what();
    switch (fault.code()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return {path, "another program holds this store", "close the other program, then open it again"};
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        return {path, "the store is damaged: " + said, kStop};
    case SQLITE_FULL:
        return {path, "the disk is full: " + said, "free some space on the tablet, then open it again"};
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
    case SQLITE_READONLY:
        return {path, "the store cannot be opened: " + said, "check the rights on file and folder"};
    default:
        return {path, "the store cannot be read or written: " + said,
                "restart the tablet and open it again; if it stays so, tell the office"};
    }
}

} // namespace crossarm::store
