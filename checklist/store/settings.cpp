#include "checklist/store/settings.hpp"

#include <sqlite3.h>

#include <array>
#include <utility>

namespace crossarm::store {

namespace {

constexpr int kMiB = 1024 * 1024;
constexpr std::int64_t kHeapBytes = 512LL * kMiB;

void set(Database& database, int option, int value) {
    int now = -1;
    if (sqlite3_db_config(database.handle(), option, value, &now) != SQLITE_OK || now != value) {
        throw DiskFault(SQLITE_ERROR,
                        "this SQLite does not take connection option " + std::to_string(option));
    }
}

void expect(Database& database, const std::string& pragma, const std::string& wanted) {
    const std::string answer = database.text("PRAGMA " + pragma);
    if (answer != wanted) {
        throw DiskFault(SQLITE_ERROR, pragma + " is " + answer + " instead of " + wanted);
    }
}

} // namespace

void apply_settings(Database& database) {
    sqlite3_hard_heap_limit64(kHeapBytes);
    sqlite3_busy_timeout(database.handle(), 0);

    constexpr std::array kLimits = {
        std::pair{SQLITE_LIMIT_LENGTH, 80 * kMiB},  std::pair{SQLITE_LIMIT_SQL_LENGTH, 100'000},
        std::pair{SQLITE_LIMIT_COLUMN, 100},        std::pair{SQLITE_LIMIT_EXPR_DEPTH, 50},
        std::pair{SQLITE_LIMIT_COMPOUND_SELECT, 3}, std::pair{SQLITE_LIMIT_ATTACHED, 1},
        std::pair{SQLITE_LIMIT_TRIGGER_DEPTH, 10},
    };
    for (const auto& [limit, value] : kLimits) {
        sqlite3_limit(database.handle(), limit, value);
    }
    set(database, SQLITE_DBCONFIG_DEFENSIVE, 1);
    set(database, SQLITE_DBCONFIG_DQS_DML, 0);
    set(database, SQLITE_DBCONFIG_DQS_DDL, 0);
    set(database, SQLITE_DBCONFIG_ENABLE_VIEW, 0);
    set(database, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0);
    set(database, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0);
    set(database, SQLITE_DBCONFIG_ENABLE_FKEY, 1);

    database.run("PRAGMA locking_mode=EXCLUSIVE");
    expect(database, "journal_mode=WAL", "wal");
    database.run("PRAGMA synchronous=FULL;"
                 "PRAGMA fullfsync=1;"
                 "PRAGMA checkpoint_fullfsync=1;"
                 "PRAGMA cell_size_check=ON;"
                 "PRAGMA mmap_size=0;"
                 "PRAGMA temp_store=MEMORY;"
                 "PRAGMA wal_autocheckpoint=1000;"
                 "PRAGMA journal_size_limit=8388608");
    expect(database, "locking_mode", "exclusive");
    expect(database, "synchronous", "2");
    expect(database, "foreign_keys", "1");
    expect(database, "trusted_schema", "0");
}

} // namespace crossarm::store
