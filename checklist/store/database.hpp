// SQLite as three resources: connection, statement, transaction.
#pragma once

#include <cstdint>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

namespace crossarm::store {

/// SQLite said no. Thrown inside this room only; every public function of the room catches it.
class DiskFault : public std::runtime_error {
public:
    DiskFault(int code, const std::string& text) : std::runtime_error(text), code_(code) {}
    /// SQLite's primary result code, SQLITE_FULL for example.
    [[nodiscard]] int code() const { return code_; }

private:
    int code_;
};

/// One connection. Closed by the destructor.
class Database {
public:
    /// Opens an existing file for reading and writing, or makes it when `make` is true. The last part of the
    /// path and its folders must not be links. Throws DiskFault.
    enum class Make { No, Yes };
    Database(const std::string& path, Make make);
    Database(Database&& other) noexcept;
    Database& operator=(Database&& other) noexcept;
    ~Database();

    /// Runs statements that answer nothing.
    void run(const std::string& sql);
    /// First column of the first row; throws DiskFault when there is no row.
    [[nodiscard]] std::int64_t number(const std::string& sql);
    [[nodiscard]] std::string text(const std::string& sql);

    /// Whether closing leaves the log as it is, instead of writing it back into the main file. While the
    /// file may still turn out to be refused, it does.
    void leave_log_on_close(bool leave);
    /// Closes now and leaves the log as it is: after a fault, when the next opening has to find what there
    /// is.
    void abandon() noexcept;
    /// Closes now. No other call is allowed afterwards, except the destructor.
    void close() noexcept;
    [[nodiscard]] sqlite3* handle() { return handle_; }

private:
    friend class Statement;
    [[nodiscard]] sqlite3_stmt* prepared(std::string_view sql);
    void put_back(sqlite3_stmt* statement) noexcept;

    sqlite3* handle_ = nullptr;
    std::map<std::string, sqlite3_stmt*, std::less<>> idle_; ///< statements that wait for their next use
};

/// One prepared statement. Parameters count from 1, columns from 0. Preparing costs more than running, so the
/// connection keeps every statement for the next one with the same text; the texts must be fixed ones.
class Statement {
public:
    Statement(Database& database, std::string_view sql);
    Statement(const Statement&) = delete;
    Statement& operator=(const Statement&) = delete;
    ~Statement();

    Statement& bind(int place, std::int64_t value);
    Statement& bind(int place, std::string_view text);
    Statement& bind_blob(int place, std::string_view bytes);
    /// Not copied: the bytes must stay where they are until the statement has run.
    Statement& bind_large(int place, std::string_view bytes);

    /// True when there is a row, false at the end. Throws DiskFault.
    bool step();
    /// Runs a statement that answers no row, and makes it ready for other parameters.
    void finish();

    [[nodiscard]] std::int64_t number(int column) const;
    /// Bytes of a text or blob.
    [[nodiscard]] std::string text(int column) const;

private:
    Database& database_;
    sqlite3_stmt* statement_;
};

/// BEGIN IMMEDIATE now; ROLLBACK in the destructor unless commit() returned.
class Transaction {
public:
    explicit Transaction(Database& database);
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    ~Transaction();
    /// Returns after the disk has it. Throws DiskFault.
    void commit();

private:
    Database& database_;
    bool open_ = true;
};

} // namespace crossarm::store
