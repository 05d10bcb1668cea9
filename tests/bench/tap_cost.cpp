// From the decided entry to the disk: Store::append beside a bare SQLite commit of the same rows under the
// same settings, in turns. Not a test: run by hand in a release build, with a folder on the disk that is
// meant.
//
// bench_tap FOLDER [TAPS]
#include "checklist/model/entry.hpp"
#include "checklist/store/database.hpp"
#include "checklist/store/schema.hpp"
#include "checklist/store/settings.hpp"
#include "checklist/store/store.hpp"
#include "tests/support/small_visit.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <system_error>
#include <vector>

#include <unistd.h>

namespace {

using namespace crossarm; // NOLINT(google-build-using-namespace): a script, not a room
namespace fs = std::filesystem;

constexpr int kEntriesOfVisit = 60;

struct Times {
    std::vector<double> wall, cpu; ///< us

    template<typename Work>
    void take(const Work& work) {
        const auto cpu_now = [] {
            timespec now{};
            ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
            return static_cast<double>(now.tv_sec) * 1e6 + static_cast<double>(now.tv_nsec) / 1e3;
        };
        const double cpu_before = cpu_now();
        const auto before = std::chrono::steady_clock::now();
        work();
        wall.push_back(
            std::chrono::duration<double, std::micro>(std::chrono::steady_clock::now() - before).count());
        cpu.push_back(cpu_now() - cpu_before);
    }
    [[nodiscard]] static double at(std::vector<double> values, double share) {
        std::ranges::sort(values);
        return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
    }
};

/// The rows of one entry by bare SQLite: statements prepared once, everything worked out beforehand.
class RawCommit {
public:
    explicit RawCommit(const std::string& path) : database_(path, store::Database::Make::Yes) {
        store::apply_settings(database_);
        store::migrate(database_, store::migrations());
        store::make_rebuilt_tables(database_);
        begin_ = prepare("BEGIN IMMEDIATE");
        commit_ = prepare("COMMIT");
        entry_ =
            prepare("INSERT INTO entry (id, visit, device, seq, text, hash) VALUES (?1, ?2, ?3, ?4, ?5, ?6)");
        index_ = prepare("INSERT INTO visit_index (visit, first, last, structure, opened_ms, opened_offset, "
                         "last_ms, last_offset, entries, is_signed) "
                         "VALUES (?1, ?2, ?2, '', ?3, ?4, ?3, ?4, 1, 0) ON CONFLICT (visit) DO UPDATE SET "
                         "last = ?2, last_ms = ?3, last_offset = ?4, entries = entries + 1");
    }
    RawCommit(const RawCommit&) = delete;
    RawCommit& operator=(const RawCommit&) = delete;
    ~RawCommit() {
        for (sqlite3_stmt* statement : {begin_, commit_, entry_, index_}) {
            sqlite3_finalize(statement);
        }
    }

    void take(const model::Entry& entry, const std::string& text, const std::string& hash) {
        run(begin_);
        sqlite3_bind_blob(entry_, 1, entry.id.bytes.data(), 16, SQLITE_STATIC);
        sqlite3_bind_blob(entry_, 2, entry.visit.bytes.data(), 16, SQLITE_STATIC);
        sqlite3_bind_text64(entry_, 3, entry.device.data(), entry.device.size(), SQLITE_STATIC, SQLITE_UTF8);
        sqlite3_bind_int64(entry_, 4, entry.seq);
        sqlite3_bind_text64(entry_, 5, text.data(), text.size(), SQLITE_STATIC, SQLITE_UTF8);
        sqlite3_bind_text64(entry_, 6, hash.data(), hash.size(), SQLITE_STATIC, SQLITE_UTF8);
        run(entry_);
        sqlite3_bind_blob(index_, 1, entry.visit.bytes.data(), 16, SQLITE_STATIC);
        sqlite3_bind_int64(index_, 2, sqlite3_last_insert_rowid(database_.handle()));
        sqlite3_bind_int64(index_, 3, entry.at.utc_ms);
        sqlite3_bind_int64(index_, 4, entry.at.offset_minutes);
        run(index_);
        run(commit_);
    }

private:
    sqlite3_stmt* prepare(const char* sql) {
        sqlite3_stmt* out = nullptr;
        if (sqlite3_prepare_v3(database_.handle(), sql, -1, SQLITE_PREPARE_PERSISTENT, &out, nullptr) !=
            SQLITE_OK) {
            throw std::runtime_error(sqlite3_errmsg(database_.handle()));
        }
        return out;
    }
    void run(sqlite3_stmt* statement) {
        if (sqlite3_step(statement) != SQLITE_DONE || sqlite3_reset(statement) != SQLITE_OK) {
            throw std::runtime_error(sqlite3_errmsg(database_.handle()));
        }
    }

    store::Database database_;
    sqlite3_stmt* begin_ = nullptr;
    sqlite3_stmt* commit_ = nullptr;
    sqlite3_stmt* entry_ = nullptr;
    sqlite3_stmt* index_ = nullptr;
};

void measure(const std::string& folder, int taps) {
    auto store = store::Store::open(folder + "/tablet.store");
    if (!store) {
        throw std::runtime_error(model::to_text(store.problem()));
    }
    RawCommit raw(folder + "/raw.store");
    Times ours, bare;
    model::Id visit;
    store::Kept last; // what the raw side takes next: one entry behind ours
    for (int i = 0; i < taps; ++i) {
        model::Timestamp at = tests::kMorning;
        at.utc_ms += std::int64_t{i} * 4'000;
        model::Body body =
            tests::found("tank.point_" + std::to_string(i % kEntriesOfVisit), model::Grade::Sound);
        if (i % kEntriesOfVisit == 0) {
            visit = store->new_visit(at);
            body = tests::opened();
        }
        const std::string text = i > 0 ? model::to_canonical(last.entry) : "";
        const auto raw_takes = [&] {
            if (i > 0) {
                bare.take([&] { raw.take(last.entry, text, last.hash); });
            }
        };
        // Each goes first in half of the turns.
        if (i % 2 == 1) {
            raw_takes();
        }
        model::Result<std::vector<store::Kept>> kept = std::vector<store::Kept>{};
        ours.take([&] { kept = store->append(visit, {body}, at, "P-014"); });
        if (i % 2 == 0) {
            raw_takes();
        }
        if (!kept) {
            throw std::runtime_error(model::to_text(kept.problem()));
        }
        last = std::move(kept->front());
    }
    std::printf("%d taps, us\n%-8s %10s %10s %10s %10s\n", taps, "", "ours", "p99", "raw", "ratio");
    const auto line = [](const char* name, const std::vector<double>& a, const std::vector<double>& b) {
        std::printf("%-8s %10.1f %10.1f %10.1f %10.2f\n", name, Times::at(a, 0.5), Times::at(a, 0.99),
                    Times::at(b, 0.5), Times::at(a, 0.5) / Times::at(b, 0.5));
    };
    line("wall", ours.wall, bare.wall);
    line("cpu", ours.cpu, bare.cpu);
}

} // namespace

int main(int argc, char** argv) {
    if (argc < 2) {
        std::fprintf(stderr, "usage: bench_tap FOLDER [TAPS]\n");
        return 2;
    }
    const std::string folder = std::string(argv[1]) + "/crossarm-bench-" + std::to_string(::getpid());
    int code = 0;
    try {
        fs::create_directories(folder);
        measure(folder, argc > 2 ? std::atoi(argv[2]) : 5'000);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "bench_tap: %s\n", error.what());
        code = 3;
    }
    std::error_code ignored;
    fs::remove_all(folder, ignored);
    return code;
}
