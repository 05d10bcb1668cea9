// A disk that can fail: a SQLite file layer over the real one, for power cuts, full disks and I/O errors.
//
// Every operation goes to the real file, except syncs: no test cuts the power of the machine, and they take
// time. Besides, the layer remembers per file what was synced last. After a power cut every file is what was
// synced, with some 512-byte sectors of what was written since.
#pragma once

#include "checklist/model/result.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <iterator>
#include <map>
#include <random>
#include <string>
#include <utility>
#include <vector>

namespace crossarm::tests {

class FaultyDisk {
public:
    enum class Fails { Never, Once, Forever };
    /// What fails: every kind of operation, or only those that need room on the disk.
    enum class What { Anything, Writes };

    FaultyDisk() : real_(sqlite3_vfs_find(nullptr)), layer_(*real_) {
        model::require(current() == nullptr, "one faulty disk at a time");
        current() = this;
        layer_.zName = "faulty-disk";
        layer_.szOsFile = static_cast<int>(sizeof(File)) + real_->szOsFile;
        layer_.xOpen = open;
        layer_.xDelete = remove;
        sqlite3_vfs_register(&layer_, 1);
    }
    FaultyDisk(const FaultyDisk&) = delete;
    FaultyDisk& operator=(const FaultyDisk&) = delete;
    ~FaultyDisk() {
        sqlite3_vfs_unregister(&layer_);
        sqlite3_vfs_register(real_, 1);
        current() = nullptr;
    }

    /// The `nth` operation from now on (from 1) fails with `code`, and those after it when for ever.
    void fail(std::int64_t nth, int code, Fails fails, What what) {
        left_ = nth;
        code_ = code;
        fails_ = fails;
        what_ = what;
    }
    void heal() { fails_ = Fails::Never; }
    /// Whether the failure has come.
    [[nodiscard]] bool has_failed() const { return fails_ != Fails::Never && left_ <= 0; }

    /// The power goes off at the `nth` operation from now on; nothing reaches the disk any more.
    void cut_power_at(std::int64_t nth) { fail(nth, SQLITE_IOERR, Fails::Forever, What::Anything); }
    /// After every connection is closed: ends all faults and leaves in each file what a power cut would have
    /// left. With `torn`, each sector written since the last sync is there or not, at random.
    /// Only the files whose path begins with `machine` were on the machine that lost its power.
    void power_comes_back(std::mt19937& dice, bool torn, const std::string& machine = "") {
        heal();
        for (auto& [path, state] : files_) {
            if (path.rfind(machine, 0) != 0) {
                continue;
            }
            const std::string& now = state.now;
            std::string then = state.synced;
            if (torn) {
                // Length and content of what was not synced are separate: either may have made it.
                then.resize(dice() % 2 == 0 ? then.size() : std::max(then.size(), now.size()));
                for (std::size_t at = 0; at < std::min(now.size(), then.size()); at += kSector) {
                    if (dice() % 2 == 0) {
                        const std::size_t size = std::min({kSector, now.size() - at, then.size() - at});
                        then.replace(at, size, now, at, size);
                    }
                }
            }
            if (state.is_synced || !then.empty()) {
                std::ofstream(path, std::ios::binary | std::ios::trunc) << then;
            }
        }
        forget(machine);
    }

    /// A closed file was replaced by other means: what is known of it and its log no longer holds.
    void forget(const std::string& path) {
        std::erase_if(files_, [&](const auto& known) { return known.first.rfind(path, 0) == 0; });
    }

    [[nodiscard]] std::int64_t operations() const { return operations_; }

private:
    static constexpr std::size_t kSector = 512;

    struct State {
        std::string now;
        std::string synced;
        std::vector<std::pair<std::size_t, std::size_t>> changed; // place and size, since the last sync
        bool is_synced = false;                                   // or was there before

        void write(const void* bytes, std::size_t size, std::size_t at) {
            now.resize(std::max(now.size(), at + size));
            now.replace(at, size, static_cast<const char*>(bytes), size);
            changed.emplace_back(at, size);
        }
        void sync() {
            synced.resize(now.size());
            for (const auto& [at, size] : changed) {
                if (at < now.size()) {
                    const std::size_t left = std::min(size, now.size() - at);
                    synced.replace(at, left, now, at, left);
                }
            }
            changed.clear();
            is_synced = true;
        }
    };
    struct File {
        sqlite3_file base;
        std::string* path; // null for temporary files
        [[nodiscard]] sqlite3_file* real() {
            return reinterpret_cast<sqlite3_file*>(reinterpret_cast<char*>(this) + sizeof(File));
        }
    };
    static_assert(sizeof(File) % alignof(std::max_align_t) == 0);

    static FaultyDisk*& current() {
        static FaultyDisk* disk = nullptr;
        return disk;
    }
    static std::string slurp(const std::string& path) {
        std::ifstream file(path, std::ios::binary);
        return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    }
    static bool exists(const std::string& path) { return std::ifstream(path).good(); }

    /// What is known of a file that is opened for the first time: nothing when it is new, and a file that was
    /// there before is on the disk; one that was given another name meanwhile keeps what is known of it.
    void get_to_know(const std::string& path) {
        for (auto known = files_.begin(); known != files_.end(); ++known) {
            if (known->first.rfind(path + ".new-", 0) == 0 && !exists(known->first) && exists(path)) {
                files_[path] = std::move(known->second);
                files_.erase(known);
                return;
            }
        }
        const std::string bytes = slurp(path);
        files_[path] = State{bytes, bytes, {}, exists(path)};
    }

    /// Counts one operation; the code it fails with, or SQLITE_OK.
    int step(int code, bool writes) {
        ++operations_;
        if (fails_ == Fails::Never || (what_ == What::Writes && !writes)) {
            return SQLITE_OK;
        }
        --left_;
        const bool now = left_ == 0 || (left_ < 0 && fails_ == Fails::Forever);
        if (!now) {
            return SQLITE_OK;
        }
        return code_ == SQLITE_IOERR ? code : code_;
    }

    static int open(sqlite3_vfs*, const char* name, sqlite3_file* out, int flags, int* given) {
        FaultyDisk& disk = *current();
        auto* file = reinterpret_cast<File*>(out);
        file->base.pMethods = nullptr;
        file->path = nullptr;
        const bool makes = (flags & SQLITE_OPEN_CREATE) != 0;
        if (const int code = disk.step(SQLITE_CANTOPEN, makes); code != SQLITE_OK) {
            return makes && code == SQLITE_FULL ? SQLITE_CANTOPEN : code;
        }
        if (name != nullptr && disk.files_.count(name) == 0) {
            disk.get_to_know(name);
        }
        const int code = disk.real_->xOpen(disk.real_, name, file->real(), flags, given);
        if (code != SQLITE_OK) {
            return code;
        }
        if (name != nullptr) {
            file->path = new std::string(name);
        }
        static const sqlite3_io_methods kMethods = methods();
        file->base.pMethods = &kMethods;
        return SQLITE_OK;
    }

    static int remove(sqlite3_vfs*, const char* name, int sync_folder) {
        FaultyDisk& disk = *current();
        if (const int code = disk.step(SQLITE_IOERR_DELETE, true); code != SQLITE_OK) {
            return code == SQLITE_FULL ? SQLITE_IOERR_DELETE : code;
        }
        // A removed file stays away: the sync of the folder that SQLite does after it is not modelled.
        disk.files_.erase(name);
        return disk.real_->xDelete(disk.real_, name, sync_folder);
    }

    static File* of(sqlite3_file* file) { return reinterpret_cast<File*>(file); }
    static sqlite3_file* real(sqlite3_file* file) { return of(file)->real(); }

    static State* state_of(sqlite3_file* file) {
        return of(file)->path == nullptr ? nullptr : &current()->files_[*of(file)->path];
    }

    static sqlite3_io_methods methods() {
        sqlite3_io_methods m{};
        m.iVersion = 1; // no shared memory, no memory map: the store uses neither
        m.xClose = [](sqlite3_file* f) {
            const int code = real(f)->pMethods->xClose(real(f));
            delete of(f)->path;
            return code;
        };
        m.xRead = [](sqlite3_file* f, void* out, int size, sqlite3_int64 at) {
            const int code = current()->step(SQLITE_IOERR_READ, false);
            return code != SQLITE_OK ? code : real(f)->pMethods->xRead(real(f), out, size, at);
        };
        m.xWrite = [](sqlite3_file* f, const void* bytes, int size, sqlite3_int64 at) {
            const int code = current()->step(SQLITE_IOERR_WRITE, true);
            if (code == SQLITE_OK && state_of(f) != nullptr) {
                state_of(f)->write(bytes, static_cast<std::size_t>(size), static_cast<std::size_t>(at));
            }
            return code != SQLITE_OK ? code : real(f)->pMethods->xWrite(real(f), bytes, size, at);
        };
        m.xTruncate = [](sqlite3_file* f, sqlite3_int64 size) {
            const int code = current()->step(SQLITE_IOERR_TRUNCATE, false);
            if (code == SQLITE_OK && state_of(f) != nullptr) {
                state_of(f)->now.resize(static_cast<std::size_t>(size));
            }
            return code != SQLITE_OK ? code : real(f)->pMethods->xTruncate(real(f), size);
        };
        m.xSync = [](sqlite3_file* f, int) {
            const int code = current()->step(SQLITE_IOERR_FSYNC, true);
            if (code == SQLITE_OK && state_of(f) != nullptr) {
                state_of(f)->sync();
            }
            return code == SQLITE_FULL ? SQLITE_IOERR_FSYNC : code;
        };
        m.xFileSize = [](sqlite3_file* f, sqlite3_int64* size) {
            const int code = current()->step(SQLITE_IOERR_FSTAT, false);
            return code != SQLITE_OK ? code : real(f)->pMethods->xFileSize(real(f), size);
        };
        m.xLock = [](sqlite3_file* f, int level) { return real(f)->pMethods->xLock(real(f), level); };
        m.xUnlock = [](sqlite3_file* f, int level) { return real(f)->pMethods->xUnlock(real(f), level); };
        m.xCheckReservedLock = [](sqlite3_file* f, int* out) {
            return real(f)->pMethods->xCheckReservedLock(real(f), out);
        };
        m.xFileControl = [](sqlite3_file* f, int op, void* arg) {
            return real(f)->pMethods->xFileControl(real(f), op, arg);
        };
        m.xSectorSize = [](sqlite3_file* f) { return real(f)->pMethods->xSectorSize(real(f)); };
        m.xDeviceCharacteristics = [](sqlite3_file* f) {
            return real(f)->pMethods->xDeviceCharacteristics(real(f));
        };
        return m;
    }

    sqlite3_vfs* real_;
    sqlite3_vfs layer_;
    std::map<std::string, State> files_;
    std::int64_t operations_ = 0;
    std::int64_t left_ = 0;
    int code_ = SQLITE_IOERR;
    Fails fails_ = Fails::Never;
    What what_ = What::Anything;
};

} // namespace crossarm::tests
