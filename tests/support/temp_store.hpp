// A folder of its own for a test, and a store in it with random bytes that are the same in every run.
#pragma once

#include "checklist/store/store.hpp"

#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <system_error>
#include <utility>

#include <unistd.h>

namespace crossarm::tests {

/// Made with mkdtemp, removed with everything in it at the end. In memory where the system offers that: no
/// test pulls the plug, and syncing a real disk takes most of a test's time. TMPDIR overrides it.
class TempFolder {
public:
    TempFolder() {
        const bool in_memory = std::getenv("TMPDIR") == nullptr && ::access("/dev/shm", W_OK) == 0;
        const std::filesystem::path base = in_memory ? "/dev/shm" : std::filesystem::temp_directory_path();
        std::string name = (base / "crossarm-XXXXXX").string();
        model::require(::mkdtemp(name.data()) != nullptr, "a temporary folder can be made");
        path_ = name;
    }
    TempFolder(TempFolder&& other) noexcept : path_(std::exchange(other.path_, "")) {}
    TempFolder(const TempFolder&) = delete;
    TempFolder& operator=(const TempFolder&) = delete;
    TempFolder& operator=(TempFolder&&) = delete;
    ~TempFolder() {
        if (!path_.empty()) {
            std::error_code error;
            std::filesystem::remove_all(path_, error);
        }
    }
    [[nodiscard]] const std::string& path() const { return path_; }
    /// The path of a file in the folder.
    [[nodiscard]] std::string file(const std::string& name) const { return path_ + '/' + name; }

private:
    std::string path_;
};

/// Random bytes from a seed. The ids of one seed are the same in every run, except the tablet's name, which
/// holds the date of the store's file.
inline store::RandomBytes seeded_random(std::uint32_t seed) {
    return [maker = std::mt19937(seed)](std::uint8_t* out, std::size_t size) mutable {
        for (std::size_t i = 0; i < size; ++i) {
            out[i] = static_cast<std::uint8_t>(maker() & 0xffU);
        }
    };
}

/// A store in a folder of its own. `store` can be moved from, or assigned anew to reopen it.
struct TempStore {
    TempFolder folder;
    std::string path = folder.file("tablet.store");
    std::uint32_t last_seed;
    store::Store store;

    explicit TempStore(std::uint32_t seed = 1)
        : last_seed(seed), store(std::move(store::Store::open(path, seeded_random(seed))).value()) {}
    /// Closes the store and opens it again, as after a restart of the program; with other random bytes than
    /// before.
    void reopen() {
        {
            const store::Store closing = std::move(store);
        }
        store = std::move(store::Store::open(path, seeded_random(++last_seed))).value();
    }
};

inline std::string read_file(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

inline void write_file(const std::string& path, const std::string& bytes) {
    std::ofstream file(path, std::ios::binary | std::ios::trunc);
    file << bytes;
}

} // namespace crossarm::tests
