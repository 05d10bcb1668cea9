#include "tests/support/faulty_files.hpp"

#include <array>
#include <cerrno>
#include <cstdarg>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

// NOLINTBEGIN(readability-identifier-naming): the linker's --wrap gives these names
extern "C" {
int __real_open(const char* path, int flags, ...);
ssize_t __real_write(int file, const void* bytes, std::size_t size);
int __real_fsync(int file);
int __real_rename(const char* from, const char* to);
}
// NOLINTEND(readability-identifier-naming)

namespace crossarm::tests {

namespace {

struct Renamed {
    std::string from;
    std::string to;
    std::optional<std::string> before; ///< what `to` held
};

struct State {
    bool on = false;
    std::int64_t left = 0; ///< operations until it fails; 0: never
    int error = 0;
    bool forever = false;
    bool failed = false;
    std::function<bool()> power_is_off;
    std::set<std::string> unsynced;
    std::vector<Renamed> renamed; ///< in folders not synced since
};
State& state() {
    static State one;
    return one;
}

std::string path_of(int file) {
    std::array<char, 4096> path{};
    const std::string link = "/proc/self/fd/" + std::to_string(file);
    const ssize_t size = ::readlink(link.c_str(), path.data(), path.size());
    return size <= 0 ? std::string() : std::string(path.data(), static_cast<std::size_t>(size));
}

std::string folder_of(const std::string& path) {
    return std::filesystem::canonical(std::filesystem::path(path).parent_path()).string();
}

/// The error of this operation, 0 for none.
int step() {
    State& now = state();
    if (!now.on) {
        return 0;
    }
    if (now.power_is_off && now.power_is_off()) {
        now.failed = true;
        return EIO;
    }
    if (now.failed && now.forever) {
        return now.error;
    }
    if (now.left > 0) {
        --now.left;
        if (now.left == 0) {
            now.failed = true;
            return now.error;
        }
    }
    return 0;
}

} // namespace

FaultyFiles::FaultyFiles() {
    state() = {};
    state().on = true;
}
FaultyFiles::~FaultyFiles() {
    state() = {};
}
void FaultyFiles::fail(std::int64_t nth, int error, Fails fails) {
    State& now = state();
    now.left = nth;
    now.error = error;
    now.forever = fails == Fails::Forever;
    now.failed = false;
}
void FaultyFiles::together_with(std::function<bool()> power_is_off) {
    state().power_is_off = std::move(power_is_off);
}
bool FaultyFiles::has_failed() const {
    return state().failed;
}
void FaultyFiles::heal() {
    State& now = state();
    now.left = 0;
    now.failed = false;
    now.forever = false;
}
void FaultyFiles::power_comes_back(std::mt19937& dice) {
    heal();
    State& now = state();
    for (auto one = now.renamed.rbegin(); one != now.renamed.rend(); ++one) {
        std::error_code gone;
        if (dice() % 2 == 0 && std::filesystem::exists(one->to, gone)) {
            std::filesystem::rename(one->to, one->from, gone);
            if (one->before) {
                std::ofstream(one->to, std::ios::binary) << *one->before;
            }
        }
    }
    for (const std::string& path : now.unsynced) {
        std::error_code gone;
        const auto size = std::filesystem::file_size(path, gone);
        if (!gone) {
            std::filesystem::resize_file(path, dice() % (size + 1), gone);
        }
    }
    now.renamed.clear();
    now.unsynced.clear();
}

} // namespace crossarm::tests

using crossarm::tests::folder_of;
using crossarm::tests::path_of;
using crossarm::tests::state;
using crossarm::tests::step;

// NOLINTBEGIN(readability-identifier-naming): the linker's --wrap gives these names
extern "C" {

int __wrap_open(const char* path, int flags, ...);
int __wrap_open(const char* path, int flags, ...) {
    mode_t mode = 0;
    if ((flags & O_CREAT) != 0) {
        va_list more;
        va_start(more, flags);
        mode = va_arg(more, mode_t);
        va_end(more);
        if ((flags & O_TRUNC) != 0) {
            if (const int error = step(); error != 0) {
                errno = error;
                return -1;
            }
        }
    }
    return __real_open(path, flags, mode);
}

ssize_t __wrap_write(int file, const void* bytes, std::size_t size);
ssize_t __wrap_write(int file, const void* bytes, std::size_t size) {
    struct stat about{};
    if (!state().on || ::fstat(file, &about) != 0 || !S_ISREG(about.st_mode)) {
        return __real_write(file, bytes, size);
    }
    state().unsynced.insert(path_of(file));
    if (const int error = step(); error != 0) {
        (void)__real_write(file, bytes, size / 2);
        errno = error;
        return -1;
    }
    return __real_write(file, bytes, size);
}

int __wrap_fsync(int file);
int __wrap_fsync(int file) {
    if (!state().on) {
        return __real_fsync(file);
    }
    if (const int error = step(); error != 0) {
        errno = error;
        return -1;
    }
    const std::string path = path_of(file);
    state().unsynced.erase(path);
    std::erase_if(state().renamed, [&](const auto& one) { return folder_of(one.to) == path; });
    return __real_fsync(file);
}

int __wrap_rename(const char* from, const char* to);
int __wrap_rename(const char* from, const char* to) {
    if (!state().on) {
        return __real_rename(from, to);
    }
    if (const int error = step(); error != 0) {
        errno = error;
        return -1;
    }
    std::optional<std::string> before;
    if (std::ifstream old(to, std::ios::binary); old) {
        before.emplace(std::istreambuf_iterator<char>(old), std::istreambuf_iterator<char>());
    }
    const int code = __real_rename(from, to);
    if (code == 0) {
        state().renamed.push_back({from, to, std::move(before)});
        if (state().unsynced.erase(from) > 0) {
            state().unsynced.insert(to);
        }
    }
    return code;
}
}
// NOLINTEND(readability-identifier-naming)
