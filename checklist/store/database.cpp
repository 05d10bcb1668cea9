#include "checklist/store/database.hpp"

#include "checklist/model/result.hpp"

#include <sqlite3.h>

#include <utility>

namespace crossarm::store {

namespace {

[[noreturn]] void fail(sqlite3* handle, int code) {
    std::string text = sqlite3_errstr(code & 0xff);
    if (handle != nullptr && sqlite3_errmsg(handle) != text) {
        text += std::string(" (") + sqlite3_errmsg(handle) + ")";
    }
    throw DiskFault(code & 0xff, text);
}

void check(sqlite3* handle, int code) {
    if (code != SQLITE_OK) {
        fail(handle, code);
    }
}

} // namespace

Database::Database(const std::string& path, Make make) {
    int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOFOLLOW | SQLITE_OPEN_NOMUTEX;
    if (make == Make::Yes) {
        flags |= SQLITE_OPEN_CREATE;
    }
    const int code = sqlite3_open_v2(path.c_str(), &handle_, flags, nullptr);
    if (code != SQLITE_OK) {
        const std::string text = handle_ == nullptr ? sqlite3_errstr(code) : sqlite3_errmsg(handle_);
        close();
        throw DiskFault(code & 0xff, text);
    }
}

Database::Database(Database&& other) noexcept
    : handle_(std::exchange(other.handle_, nullptr)), idle_(std::move(other.idle_)) {
    other.idle_.clear();
}

Database& Database::operator=(Database&& other) noexcept {
    std::swap(handle_, other.handle_);
    std::swap(idle_, other.idle_);
    return *this;
}

Database::~Database() {
    close();
}

void Database::abandon() noexcept {
    sqlite3_db_config(handle_, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    close();
}

void Database::close() noexcept {
    for (const auto& [sql, statement] : idle_) {
        sqlite3_finalize(statement);
    }
    idle_.clear();
    sqlite3_close_v2(std::exchange(handle_, nullptr));
}

sqlite3_stmt* Database::prepared(std::string_view sql) {
    if (const auto found = idle_.find(sql); found != idle_.end()) {
        return idle_.extract(found).mapped();
    }
    sqlite3_stmt* statement = nullptr;
    check(handle_, sqlite3_prepare_v3(handle_, sql.data(), static_cast<int>(sql.size()),
                                      SQLITE_PREPARE_PERSISTENT, &statement, nullptr));
    return statement;
}

void Database::put_back(sqlite3_stmt* statement) noexcept {
    const std::string_view sql = sqlite3_sql(statement);
    // Some pragmas act when they are prepared, so that running one again would do nothing.
    if (handle_ == nullptr || sql.starts_with("PRAGMA")) {
        sqlite3_finalize(statement);
        return;
    }
    sqlite3_reset(statement);
    sqlite3_clear_bindings(statement);
    if (!idle_.try_emplace(std::string(sql), statement).second) {
        sqlite3_finalize(statement);
    }
}

void Database::run(const std::string& sql) {
    check(handle_, sqlite3_exec(handle_, sql.c_str(), nullptr, nullptr, nullptr));
}

std::int64_t Database::number(const std::string& sql) {
    Statement statement(*this, sql);
    if (!statement.step()) {
        throw DiskFault(SQLITE_DONE, "no answer to: " + sql);
    }
    return statement.number(0);
}

std::string Database::text(const std::string& sql) {
    Statement statement(*this, sql);
    if (!statement.step()) {
        throw DiskFault(SQLITE_DONE, "no answer to: " + sql);
    }
    return statement.text(0);
}

void Database::leave_log_on_close(bool leave) {
    check(handle_, sqlite3_db_config(handle_, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, leave ? 1 : 0, nullptr));
}

Statement::Statement(Database& database, std::string_view sql)
    : database_(database), statement_(database.prepared(sql)) {}

Statement::~Statement() {
    database_.put_back(statement_);
}

Statement& Statement::bind(int place, std::int64_t value) {
    check(database_.handle(), sqlite3_bind_int64(statement_, place, value));
    return *this;
}

Statement& Statement::bind(int place, std::string_view text) {
    // A null pointer would be bound as NULL.
    const char* data = text.empty() ? "" : text.data();
    check(database_.handle(),
          sqlite3_bind_text64(statement_, place, data, text.size(), SQLITE_TRANSIENT, SQLITE_UTF8));
    return *this;
}

Statement& Statement::bind_blob(int place, std::string_view bytes) {
    const char* data = bytes.empty() ? "" : bytes.data();
    check(database_.handle(), sqlite3_bind_blob64(statement_, place, data, bytes.size(), SQLITE_TRANSIENT));
    return *this;
}

Statement& Statement::bind_large(int place, std::string_view bytes) {
    const char* data = bytes.empty() ? "" : bytes.data();
    check(database_.handle(), sqlite3_bind_blob64(statement_, place, data, bytes.size(), SQLITE_STATIC));
    return *this;
}

bool Statement::step() {
    const int code = sqlite3_step(statement_);
    if (code != SQLITE_ROW && code != SQLITE_DONE) {
        fail(database_.handle(), code);
    }
    return code == SQLITE_ROW;
}

void Statement::finish() {
    while (step()) {
    }
    check(database_.handle(), sqlite3_reset(statement_));
}

std::int64_t Statement::number(int column) const {
    return sqlite3_column_int64(statement_, column);
}

std::string Statement::text(int column) const {
    const auto* data = static_cast<const char*>(sqlite3_column_blob(statement_, column));
    const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement_, column));
    return data == nullptr ? std::string() : std::string(data, size);
}

Transaction::Transaction(Database& database) : database_(database) {
    model::require(sqlite3_get_autocommit(database.handle()) != 0, "a transaction inside a transaction");
    Statement(database_, "BEGIN IMMEDIATE").finish();
}

Transaction::~Transaction() {
    if (open_ && database_.handle() != nullptr && sqlite3_get_autocommit(database_.handle()) == 0) {
        sqlite3_exec(database_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
    }
}

void Transaction::commit() {
    Statement(database_, "COMMIT").finish();
    open_ = false;
}

} // namespace crossarm::store
