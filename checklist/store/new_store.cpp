#include "checklist/store/new_store.hpp"

#include "checklist/store/head_file.hpp"
#include "checklist/store/identity.hpp"
#include "checklist/store/journal.hpp"
#include "checklist/store/place.hpp"
#include "checklist/store/schema.hpp"
#include "checklist/store/settings.hpp"

#include <sqlite3.h>

#include <cerrno>
#include <cstdio>
#include <cstring>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace crossarm::store {

namespace {

void remove_all(const std::string& path) {
    for (const char* tail : {"", "-wal", "-journal"}) {
        ::unlink((path + tail).c_str());
    }
}

void fill(const std::string& path, const RandomBytes& random) {
    Database database(path, Database::Make::Yes);
    keep_private(path);
    database.run("PRAGMA page_size=4096; PRAGMA encoding='UTF-8'; PRAGMA application_id=" +
                 std::to_string(kApplicationId));
    apply_settings(database);
    migrate(database, migrations());
    Transaction transaction(database);
    make_rebuilt_tables(database);
    {
        model::IdMaker ids;
        Statement statement(database, "INSERT INTO tablet (one, device) VALUES (1, ?1)");
        statement.bind(1, model::to_text(make_id(ids, random, birth_of(path))));
        statement.finish();
    }
    make_first_identity(database, random, birth_of(path));
    transaction.commit();
    // Closing would write the log back too, but would not say when that failed.
    if (database.number("PRAGMA wal_checkpoint(TRUNCATE)") != 0) {
        throw DiskFault(SQLITE_BUSY, "the log could not be written back");
    }
}

void sync_folder(const std::string& path) {
    const std::string folder = path.substr(0, path.rfind('/') + 1);
    const int file = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    const bool synced = file >= 0 && ::fsync(file) == 0;
    if (file >= 0) {
        ::close(file);
    }
    if (!synced) {
        throw DiskFault(SQLITE_IOERR, "the folder could not be synced");
    }
}

model::Done check_remains(const std::string& path) {
    for (const char* tail : {"-wal", "-journal"}) {
        if (size_of(path + tail) > 0) {
            return model::Problem{
                path, std::string("the store is gone, but its log ") + path + tail + " is still there",
                "put the store back beside its log and tell the office"};
        }
    }
    const auto head = load_head(path + ".head");
    if (head && (head->seq > 0 || head->bundle_seq > 0)) {
        return model::Problem{path,
                              "the store is gone, but its head file " + path + ".head knows of entries in it",
                              "put the store back, or move the head file away to begin a new one"};
    }
    return {};
}

} // namespace

model::Timestamp birth_of(const std::string& path) {
    struct stat about{};
    ::lstat(path.c_str(), &about);
    return {std::int64_t{about.st_mtim.tv_sec} * 1000 + about.st_mtim.tv_nsec / 1'000'000, 0};
}

model::Done make_store(const std::string& path, const RandomBytes& random) {
    if (auto remains = check_remains(path); !remains) {
        return remains;
    }
    const std::string making = path + ".new-" + std::to_string(::getpid());
    remove_all(making);
    try {
        fill(making, random);
        if (::renameat2(AT_FDCWD, making.c_str(), AT_FDCWD, path.c_str(), RENAME_NOREPLACE) != 0) {
            const bool unknown = errno == EINVAL || errno == ENOSYS;
            if (!unknown || ::rename(making.c_str(), path.c_str()) != 0) {
                remove_all(making);
                return model::Problem{
                    path, std::string("the new store could not be given its name: ") + std::strerror(errno),
                    "see whether another program makes it at this moment"};
            }
        }
        // The store has its name; a log that could not be removed at closing is empty.
        remove_all(making);
        sync_folder(path);
    } catch (const DiskFault&) {
        remove_all(making);
        throw;
    }
    return {};
}

} // namespace crossarm::store
