#include "checklist/store/backup.hpp"

#include "checklist/store/place.hpp"

#include <sqlite3.h>

#include <cerrno>
#include <cstring>

#include <fcntl.h>
#include <unistd.h>

namespace crossarm::store {

namespace {

using model::Done;
using model::Problem;

void remove_all(const std::string& path) {
    for (const char* tail : {"", "-wal", "-journal"}) {
        ::unlink((path + tail).c_str());
    }
}

Problem failure(const std::string& path, const char* act, const std::string& why) {
    return {path, std::string("there is no backup: it ") + act + ": " + why,
            "look at the medium and the room on it, or choose another place"};
}

Done sync(const std::string& path, int flags) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | flags);
    const bool synced = file >= 0 && ::fsync(file) == 0;
    const int error = errno;
    if (file >= 0) {
        ::close(file);
    }
    return synced ? Done() : failure(path, "could not be brought to the disk", std::strerror(error));
}

void copy(Database& from, const std::string& part) {
    Database to(part, Database::Make::Yes);
    keep_private(part);
    sqlite3_backup* backup = sqlite3_backup_init(to.handle(), "main", from.handle(), "main");
    if (backup == nullptr) {
        throw DiskFault(sqlite3_errcode(to.handle()) & 0xff, sqlite3_errmsg(to.handle()));
    }
    sqlite3_backup_step(backup, -1);
    if (const int code = sqlite3_backup_finish(backup); code != SQLITE_OK) {
        throw DiskFault(code & 0xff, sqlite3_errmsg(to.handle()));
    }
}

Done check(const std::string& part, const std::function<Done(Database& copy)>& verify) {
    Database database(part, Database::Make::No);
    // The copy is in the mode of the original, with a log; one file is easier to keep than two.
    database.run("PRAGMA locking_mode=EXCLUSIVE");
    if (database.text("PRAGMA journal_mode=DELETE") != "delete") {
        return Problem{part, "the copy could not be closed", "try again"};
    }
    if (const std::string answer = database.text("PRAGMA integrity_check(1)"); answer != "ok") {
        return failure(part, "reads back damaged", answer);
    }
    return verify(database);
}

} // namespace

Done back_up(Database& from, const std::string& path, const std::function<Done(Database& copy)>& verify) {
    const auto settled = settle_path(path);
    if (!settled) {
        return settled.problem();
    }
    if (::access(settled->c_str(), F_OK) == 0) {
        return Problem{*settled, "there is a file already", "give every backup a name of its own"};
    }
    const std::string part = *settled + ".part";
    remove_all(part);
    try {
        copy(from, part);
        Done good = check(part, verify);
        good = good ? sync(part, 0) : good;
        if (good && ::rename(part.c_str(), settled->c_str()) != 0) {
            good = failure(*settled, "could not be given its name", std::strerror(errno));
        }
        if (!good) {
            remove_all(part);
            return good;
        }
    } catch (const DiskFault& fault) {
        remove_all(part);
        return failure(*settled, "could not be written", fault.what());
    }
    return sync(settled->substr(0, settled->rfind('/') + 1), O_DIRECTORY);
}

} // namespace crossarm::store
