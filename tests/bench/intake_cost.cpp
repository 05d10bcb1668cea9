// What an intake costs beside the sum of its raw parts, how much memory it takes, and how it grows with the
// store. Not a test: run by hand in a release build, with a folder on the disk that is meant.
//
// bench_intake ratio FOLDER [BUNDLES]      10 000 bundles: ours and raw in turns of 100, medians of the turns
// bench_intake memory FOLDER ENTRIES NOTE  one bundle of so many entries with notes of so many bytes
// bench_intake grow FOLDER [VISITS]        stores that hold 1 000 and so many visits already, in turns
#include "sync/office/intake.hpp"
#include "sync/office/office_keys.hpp"
#include "tests/bench/intake_raw.hpp"
#include "tests/bench/intake_visits.hpp"

#include <algorithm>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <filesystem>
#include <fstream>
#include <optional>
#include <stdexcept>
#include <system_error>

#include <sys/wait.h>
#include <unistd.h>

namespace {

using namespace crossarm; // NOLINT(google-build-using-namespace): a script, not a room
namespace fs = std::filesystem;

constexpr std::size_t kTurn = 100;
constexpr unsigned kEntries = 60;
const std::string kDevice = tests::sample_device(1);

template<typename T>
T must(model::Result<T> result) {
    if (!result) {
        throw std::runtime_error(model::to_text(result.problem()));
    }
    return std::move(result).value();
}

double median(std::vector<double> values) {
    std::ranges::sort(values);
    return values.empty() ? 0.0 : values[values.size() / 2];
}

office::OfficeStore open_office(const std::string& path) {
    auto store = must(office::OfficeStore::open(path, office::OfficeStore::Make::Yes));
    if (auto pinned = office::pin_tablet(
            store, {kDevice, 1, tests::key_of(kDevice).public_key(), "P-001", bench::kNow});
        !pinned) {
        throw std::runtime_error(model::to_text(pinned.problem()));
    }
    return store;
}

/// Bundles of one tablet, one after the other, as files and as rows.
class Tablet {
public:
    explicit Tablet(std::string folder) : folder_(std::move(folder)) { fs::create_directories(folder_); }

    std::vector<std::string> write(std::size_t count, std::vector<bench::RawRows>* rows) {
        std::vector<std::string> names;
        for (std::size_t i = 0; i < count; ++i) {
            const auto made = bench::visit_bundle(++number_, kDevice, prev_, kEntries);
            const auto sealed = bundle::write_bundle(made, tests::key_of(kDevice));
            prev_ = sealed.digest;
            bytes += sealed.bytes.size();
            names.push_back(std::to_string(100'000'000U + number_) + ".json");
            std::ofstream(folder_ + "/" + names.back(), std::ios::binary) << sealed.bytes;
            if (rows != nullptr) {
                rows->push_back({made, sealed.digest, {}, {}});
                for (const std::string& text : made.entries) {
                    rows->back().entries.push_back(must(model::read_entry(text, "bench")));
                    rows->back().hashes.push_back(model::hash_of(text));
                }
            }
        }
        return names;
    }

    std::size_t bytes = 0;

private:
    std::string folder_;
    std::string prev_;
    unsigned number_ = 0;
};

struct Cost {
    double wall = 0, cpu = 0; ///< us a bundle
};

template<typename Work>
Cost cost_of(std::size_t bundles, const Work& work) {
    const auto begin = bench::Clock::now();
    const double cpu = bench::cpu_us();
    work();
    return {bench::us_since(begin) / static_cast<double>(bundles),
            (bench::cpu_us() - cpu) / static_cast<double>(bundles)};
}

void take_all(office::OfficeStore& store, const std::string& folder, const std::vector<std::string>& names) {
    const auto intake = must(office::take_in_files(store, folder, names, bench::kNow, {true, nullptr}));
    if (intake.count(office::Line::Kind::Taken) != names.size() || !intake.sequence.gaps.empty()) {
        throw std::runtime_error("not all were taken");
    }
}

void ratio(const std::string& folder, std::size_t bundles) {
    const std::string in = folder + "/in";
    Tablet tablet(in);
    auto store = open_office(folder + "/office.store");
    bench::RawIntake raw(folder + "/raw.store", tests::key_of(kDevice).public_key());
    std::vector<double> ours_wall, ours_cpu, raw_wall, raw_cpu, ratio_wall, ratio_cpu;
    for (std::size_t turn = 0; turn * kTurn < bundles; ++turn) {
        std::vector<bench::RawRows> rows;
        const auto names = tablet.write(kTurn, &rows);
        const bool ours_first = turn % 2 == 0;
        Cost ours, parts;
        const auto take_raw = [&](const std::string& where) {
            parts = cost_of(kTurn, [&] {
                for (std::size_t i = 0; i < names.size(); ++i) {
                    std::string path = where;
                    path += names[i];
                    if (!raw.take(path, rows[i])) {
                        throw std::runtime_error("a raw part says no");
                    }
                }
            });
        };
        if (!ours_first) {
            take_raw(in + "/");
        }
        ours = cost_of(kTurn, [&] { take_all(store, in, names); });
        if (ours_first) {
            take_raw(in + "/taken/");
        }
        fs::remove_all(in + "/taken");
        ours_wall.push_back(ours.wall);
        ours_cpu.push_back(ours.cpu);
        raw_wall.push_back(parts.wall);
        raw_cpu.push_back(parts.cpu);
        ratio_wall.push_back(ours.wall / parts.wall);
        ratio_cpu.push_back(ours.cpu / parts.cpu);
    }
    const double all = static_cast<double>(ours_wall.size() * kTurn);
    std::printf("%.0f bundles of %u entries, %.1f kB each; us a bundle, medians of turns of %zu\n", all,
                kEntries, static_cast<double>(tablet.bytes) / all / 1000.0, kTurn);
    std::printf("raw parts, means: read %.1f, parse %.1f, sha-256 %.1f, verify %.1f, insert %.1f\n",
                raw.parts.read / all, raw.parts.parse / all, raw.parts.sha / all, raw.parts.verify / all,
                raw.parts.insert / all);
    std::printf("          %10s %10s %8s\n", "ours", "raw", "ratio");
    std::printf("wall      %10.1f %10.1f %8.2f\n", median(ours_wall), median(raw_wall), median(ratio_wall));
    std::printf("cpu       %10.1f %10.1f %8.2f\n", median(ours_cpu), median(raw_cpu), median(ratio_cpu));
}

double status_MiB(const char* name) {
    std::ifstream status("/proc/self/status");
    for (std::string line; std::getline(status, line);) {
        if (line.starts_with(name)) {
            return std::strtod(line.c_str() + std::strlen(name), nullptr) / 1024.0;
        }
    }
    return 0.0;
}

void memory(const std::string& folder, unsigned entries, std::size_t note_bytes) {
    const std::string in = folder + "/in";
    fs::create_directories(in);
    // Made by another process: its memory does not count.
    const pid_t maker = ::fork();
    if (maker == 0) {
        const auto made = bench::visit_bundle(1, kDevice, "", entries, note_bytes);
        std::ofstream(in + "/one.json", std::ios::binary)
            << bundle::write_bundle(made, tests::key_of(kDevice)).bytes;
        std::_Exit(0);
    }
    ::waitpid(maker, nullptr, 0);
    auto store = open_office(folder + "/office.store");
    const double MiB = static_cast<double>(fs::file_size(in + "/one.json")) / 1048576.0;
    take_all(store, in, {"one.json"});
    std::printf("%u entries with notes of %zu bytes: a bundle of %.2f MiB; peak %.1f MiB of at most "
                "3 x %.2f + 64 = %.1f MiB\n",
                entries, note_bytes, MiB, status_MiB("VmHWM:"), MiB, 3 * MiB + 64);
}

/// Visits of 200 other tablets, `kFilled` entries each, written straight into the tables: keys in order of
/// time or scattered as true ones are, texts as long as true ones; only the bundles' own bytes are made up.
void fill(const std::string& path, std::int64_t visits) {
    constexpr std::int64_t kFilled = 12;
    constexpr std::int64_t kTablets = 200;
    const auto made = bench::visit_bundle(1, kDevice, "", kEntries);
    store::Database database(path, store::Database::Make::No);
    store::apply_settings(database);
    database.run("PRAGMA synchronous=OFF; PRAGMA cache_size=-400000; PRAGMA wal_autocheckpoint=100000");
    store::Statement bundle(database, "INSERT INTO bundle (digest, device, life, seq, prev, visit, raw, "
                                      "taken_ms, taken_offset) VALUES (?1, ?2, 1, ?3, ?4, ?5, ?6, ?7, 0)");
    store::Statement entry(database, "INSERT INTO entry (id, visit, device, seq, text, hash) "
                                     "VALUES (?1, ?2, ?3, ?4, ?5, ?6)");
    const auto digest_of = [](std::int64_t number) {
        return model::sha256_hex("filled " + std::to_string(number));
    };
    const auto blob = [](const model::Id& id) { return std::string(id.bytes.begin(), id.bytes.end()); };
    const std::string raw(2'000, 'r');
    std::int64_t number = database.number("SELECT count(*) FROM bundle");
    while (number < visits) {
        store::Transaction transaction(database);
        for (const std::int64_t until = std::min(visits, number + 20'000); number < until; ++number) {
            const std::string device = tests::sample_device(static_cast<unsigned>(1'000 + number % kTablets));
            const std::int64_t at = bench::kNow.utc_ms - 100'000'000'000 + number * 90'000;
            const std::string visit = blob(bench::id_at(at, static_cast<std::uint64_t>(number)));
            bundle.bind(1, digest_of(number)).bind(2, device).bind(3, number / kTablets + 1);
            bundle.bind(4, number < kTablets ? "" : digest_of(number - kTablets)).bind_blob(5, visit);
            bundle.bind_blob(6, raw).bind(7, at).finish();
            for (std::int64_t i = 0; i < kFilled; ++i) {
                const auto id =
                    bench::id_at(at + i * 40, static_cast<std::uint64_t>(number * kFilled + i) << 20U);
                entry.bind_blob(1, blob(id)).bind_blob(2, visit).bind(3, device).bind(4, i + 1);
                entry.bind(5, made.entries[static_cast<std::size_t>(i)]);
                entry.bind(6, model::sha256_hex(std::to_string(number * kFilled + i))).finish();
            }
        }
        transaction.commit();
    }
    database.run("PRAGMA wal_checkpoint(TRUNCATE)");
}

/// One store that is measured, with tablets' bundles to come.
struct Grown {
    std::string folder;
    std::int64_t visits;
    Tablet tablet{folder + "/in"};
    std::vector<double> many_wall = {}, many_cpu = {}, one_wall = {}, open_wall = {};

    void prepare() const {
        const std::string path = folder + "/office.store";
        const auto begin = bench::Clock::now();
        {
            const auto made = open_office(path);
        }
        fill(path, visits);
        std::error_code ignored;
        std::printf("%lld visits filled in in %.0f s: %.2f GB\n", static_cast<long long>(visits),
                    bench::us_since(begin) / 1e6, static_cast<double>(fs::file_size(path, ignored)) / 1e9);
        std::fflush(stdout);
    }
    void turn() {
        std::optional<office::OfficeStore> store;
        open_wall.push_back(cost_of(1, [&] { store = open_office(folder + "/office.store"); }).wall);
        const auto names = tablet.write(kTurn, nullptr);
        const Cost many = cost_of(kTurn, [&] { take_all(*store, folder + "/in", names); });
        many_wall.push_back(many.wall);
        many_cpu.push_back(many.cpu);
        for (int i = 0; i < 5; ++i) {
            const auto name = tablet.write(1, nullptr);
            one_wall.push_back(cost_of(1, [&] { take_all(*store, folder + "/in", name); }).wall);
        }
        fs::remove_all(folder + "/in/taken");
    }
};

void grow(const std::string& folder, std::int64_t visits) {
    Grown small{folder + "/1000", 1'000};
    Grown large{folder + "/" + std::to_string(visits), visits};
    small.prepare();
    large.prepare();
    for (int turn = 0; turn < 20; ++turn) {
        small.turn();
        large.turn();
    }
    const auto line = [&](const char* name, std::vector<double> Grown::* times) {
        const double few = median(small.*times);
        const double lots = median(large.*times);
        std::printf("%-34s %12.1f %12.1f %8.2f\n", name, few, lots, lots / few);
    };
    std::printf("%-34s %12d %12lld %8s\n", "us, medians; visits in the store", 1'000,
                static_cast<long long>(visits), "ratio");
    line("a bundle of 100 in one run, wall", &Grown::many_wall);
    line("a bundle of 100 in one run, cpu", &Grown::many_cpu);
    line("a run for one bundle, wall", &Grown::one_wall);
    line("opening the store, wall", &Grown::open_wall);
}

} // namespace

int main(int argc, char** argv) {
    const std::string what = argc > 2 ? argv[1] : "";
    const auto number = [&](int at, unsigned long otherwise) {
        return argc > at ? std::strtoul(argv[at], nullptr, 10) : otherwise;
    };
    std::string folder;
    int code = 0;
    try {
        if (argc > 2) {
            folder = std::string(argv[2]) + "/crossarm-bench-" + std::to_string(::getpid());
            fs::create_directories(folder);
        }
        if (what == "ratio") {
            ratio(folder, number(3, 10'000));
        } else if (what == "memory") {
            memory(folder, static_cast<unsigned>(number(3, 5'000)), number(4, 0));
        } else if (what == "grow") {
            grow(folder, static_cast<std::int64_t>(number(3, 1'000'000)));
        } else {
            std::fprintf(stderr, "usage: bench_intake ratio|memory|grow FOLDER [NUMBERS]\n");
            code = 2;
        }
    } catch (const std::exception& error) {
        std::fprintf(stderr, "bench_intake: %s\n", error.what());
        code = 3;
    }
    std::error_code ignored;
    fs::remove_all(folder, ignored);
    return code;
}
