// The raw parts of an intake, by the bare libraries: read, nlohmann::json, SHA-256, Ed25519, SQLite. Same
// schema and same settings as the office store, statements prepared once, rows made beforehand.
#pragma once

#include "checklist/model/digest.hpp"
#include "checklist/store/schema.hpp"
#include "checklist/store/settings.hpp"
#include "sync/bundle/bundle.hpp"
#include "sync/office/office_schema.hpp"
#include "sync/seal/frame.hpp"

#include <nlohmann/json.hpp>
#include <sodium.h>
#include <sqlite3.h>

#include <array>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <string>
#include <vector>

#include <fcntl.h>
#include <unistd.h>

namespace crossarm::bench {

using Clock = std::chrono::steady_clock;

inline double us_since(Clock::time_point begin) {
    return std::chrono::duration<double, std::micro>(Clock::now() - begin).count();
}
inline double cpu_us() {
    timespec now{};
    ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) * 1e6 + static_cast<double>(now.tv_nsec) / 1e3;
}

/// What one bundle becomes in the store.
struct RawRows {
    bundle::Bundle bundle;
    std::string digest;
    std::vector<model::Entry> entries;
    std::vector<std::string> hashes;
};

/// Time of each part, summed up.
struct RawParts {
    double read = 0, parse = 0, sha = 0, verify = 0, insert = 0;
    [[nodiscard]] double sum() const { return read + parse + sha + verify + insert; }
};

class RawIntake {
public:
    RawIntake(const std::string& path, const seal::PublicKey& key)
        : database_(path, store::Database::Make::Yes), key_(key) {
        store::apply_settings(database_);
        store::migrate(database_, office::office_migrations());
        bundle_ = prepare("INSERT INTO bundle (digest, device, life, seq, prev, visit, raw, taken_ms, "
                          "taken_offset) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9) "
                          "ON CONFLICT (digest) DO NOTHING");
        entry_ = prepare("INSERT INTO entry (id, visit, device, seq, text, hash) "
                         "VALUES (?1, ?2, ?3, ?4, ?5, ?6) ON CONFLICT (id) DO NOTHING");
        begin_ = prepare("BEGIN IMMEDIATE");
        commit_ = prepare("COMMIT");
    }
    RawIntake(const RawIntake&) = delete;
    RawIntake& operator=(const RawIntake&) = delete;
    ~RawIntake() {
        for (sqlite3_stmt* statement : {bundle_, entry_, begin_, commit_}) {
            sqlite3_finalize(statement);
        }
    }

    /// False when any part says no.
    bool take(const std::string& path, const RawRows& rows) {
        auto at = Clock::now();
        const auto lap = [&at](double& part) {
            part += us_since(at);
            at = Clock::now();
        };
        const std::string bytes = read(path);
        lap(parts.read);
        const nlohmann::json json = nlohmann::json::parse(bytes);
        lap(parts.parse);
        const std::size_t joint = bytes.rfind(",\"seal\":");
        std::array<unsigned char, 32> sum{};
        crypto_hash_sha256(sum.data(), reinterpret_cast<const unsigned char*>(bytes.data()) + 8, joint - 8);
        lap(parts.sha);
        const std::string text = "crossarm bundle 1\n" + json["seal"]["digest"].get<std::string>();
        const auto sig = json["seal"]["sig"].get<std::string>();
        std::array<unsigned char, 64> raw_sig{};
        std::size_t size = 0;
        sodium_base642bin(raw_sig.data(), raw_sig.size(), sig.data(), sig.size(), nullptr, &size, nullptr,
                          sodium_base64_VARIANT_URLSAFE_NO_PADDING);
        const bool holds =
            crypto_sign_verify_detached(raw_sig.data(), reinterpret_cast<const unsigned char*>(text.data()),
                                        text.size(), key_.data()) == 0;
        lap(parts.verify);
        const bool kept = insert(bytes, rows);
        lap(parts.insert);
        return holds && kept && model::to_hex(sum) == rows.digest;
    }

    RawParts parts;

private:
    sqlite3_stmt* prepare(const char* sql) {
        sqlite3_stmt* out = nullptr;
        if (sqlite3_prepare_v3(database_.handle(), sql, -1, SQLITE_PREPARE_PERSISTENT, &out, nullptr) !=
            SQLITE_OK) {
            std::fprintf(stderr, "%s\n", sqlite3_errmsg(database_.handle()));
            std::abort();
        }
        return out;
    }
    static std::string read(const std::string& path) {
        const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
        std::string bytes(static_cast<std::size_t>(::lseek(file, 0, SEEK_END)), '\0');
        const ssize_t got = ::pread(file, bytes.data(), bytes.size(), 0);
        ::close(file);
        bytes.resize(got < 0 ? 0 : static_cast<std::size_t>(got));
        return bytes;
    }
    static void text(sqlite3_stmt* to, int place, const std::string& value) {
        sqlite3_bind_text64(to, place, value.data(), value.size(), SQLITE_STATIC, SQLITE_UTF8);
    }
    static void blob(sqlite3_stmt* to, int place, const model::Id& id) {
        sqlite3_bind_blob(to, place, id.bytes.data(), static_cast<int>(id.bytes.size()), SQLITE_STATIC);
    }
    static bool run(sqlite3_stmt* statement) {
        const bool done = sqlite3_step(statement) == SQLITE_DONE;
        return sqlite3_reset(statement) == SQLITE_OK && done;
    }
    bool insert(const std::string& bytes, const RawRows& rows) {
        bool good = run(begin_);
        text(bundle_, 1, rows.digest);
        text(bundle_, 2, rows.bundle.device);
        sqlite3_bind_int64(bundle_, 3, rows.bundle.life);
        sqlite3_bind_int64(bundle_, 4, rows.bundle.seq);
        text(bundle_, 5, rows.bundle.prev);
        blob(bundle_, 6, rows.bundle.visit);
        sqlite3_bind_blob64(bundle_, 7, bytes.data(), bytes.size(), SQLITE_STATIC);
        sqlite3_bind_int64(bundle_, 8, 1);
        sqlite3_bind_int64(bundle_, 9, 0);
        good = run(bundle_) && good;
        for (std::size_t i = 0; i < rows.entries.size(); ++i) {
            const model::Entry& entry = rows.entries[i];
            blob(entry_, 1, entry.id);
            blob(entry_, 2, entry.visit);
            text(entry_, 3, entry.device);
            sqlite3_bind_int64(entry_, 4, entry.seq);
            text(entry_, 5, rows.bundle.entries[i]);
            text(entry_, 6, rows.hashes[i]);
            good = run(entry_) && good;
        }
        return run(commit_) && good;
    }

    store::Database database_;
    seal::PublicKey key_;
    sqlite3_stmt* bundle_ = nullptr;
    sqlite3_stmt* entry_ = nullptr;
    sqlite3_stmt* begin_ = nullptr;
    sqlite3_stmt* commit_ = nullptr;
};

} // namespace crossarm::bench
