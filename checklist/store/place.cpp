#include "checklist/store/place.hpp"

#include "checklist/store/schema.hpp"

#include <sqlite3.h>

#include <array>
#include <cstddef>
#include <cstdlib>
#include <memory>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include <sys/stat.h>
#include <sys/vfs.h>
#include <unistd.h>

namespace crossarm::store {

namespace {

constexpr std::size_t kHeaderSize = 100;
using Header = std::array<unsigned char, kHeaderSize>;

/// Reads the first bytes through SQLite's own file layer: closing a plain descriptor would drop the lock
/// that another connection of this process holds on the file.
std::optional<Header> read_header(const std::string& path) {
    sqlite3_vfs* vfs = sqlite3_vfs_find(nullptr);
    std::vector<std::max_align_t> room(static_cast<std::size_t>(vfs->szOsFile) / sizeof(std::max_align_t) +
                                       1);
    auto* file = reinterpret_cast<sqlite3_file*>(room.data());
    // SQLite wants an empty list of parameters after the name.
    const std::string name = path + std::string(3, '\0');
    int given = 0;
    if (vfs->xOpen(vfs, name.c_str(), file, SQLITE_OPEN_READONLY | SQLITE_OPEN_MAIN_DB, &given) !=
        SQLITE_OK) {
        return std::nullopt;
    }
    Header header{};
    const int code = file->pMethods->xRead(file, header.data(), static_cast<int>(header.size()), 0);
    file->pMethods->xClose(file);
    if (code != SQLITE_OK) {
        return std::nullopt;
    }
    return header;
}

std::int64_t big_endian(const Header& header, std::size_t place) {
    std::int64_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        value = value * 256 + header.at(place + i);
    }
    return value;
}

} // namespace

model::Result<std::string> settle_path(const std::string& path) {
    const std::size_t slash = path.rfind('/');
    const std::string folder = slash == std::string::npos ? "." : path.substr(0, slash + 1);
    const std::string name = slash == std::string::npos ? path : path.substr(slash + 1);
    if (name.empty() || name == "." || name == "..") {
        return model::Problem{path, "it is a folder", "give the name of the store's file in it"};
    }
    const std::unique_ptr<char, decltype(&std::free)> real(::realpath(folder.c_str(), nullptr), &std::free);
    if (!real) {
        return model::Problem{path, "its folder is not there", "make the folder, or give another one"};
    }
    const std::string settled = real.get();
    return (settled == "/" ? settled : settled + '/') + name;
}

model::Done check_filesystem(const std::string& path, std::uint64_t type) {
    static constexpr std::array kRefused = {
        std::pair{std::uint64_t{0x4d44}, "vfat"},     std::pair{std::uint64_t{0x2011bab0}, "exfat"},
        std::pair{std::uint64_t{0x6969}, "nfs"},      std::pair{std::uint64_t{0x517b}, "smb"},
        std::pair{std::uint64_t{0xff534d42}, "cifs"}, std::pair{std::uint64_t{0xfe534d42}, "smb2"},
    };
    for (const auto& [refused, name] : kRefused) {
        if (type == refused) {
            return model::Problem{path,
                                  std::string("it lies on a ") + name +
                                      " file system, a stick or a network drive, which can lose what was "
                                      "confirmed",
                                  "keep the store on the tablet's own disk"};
        }
    }
    return {};
}

std::uint64_t filesystem_of(const std::string& path) {
    struct statfs about{};
    const std::string folder = path.substr(0, path.rfind('/') + 1);
    if (::statfs(folder.c_str(), &about) != 0) {
        return 0;
    }
    // Some of the numbers do not fit a signed 32-bit field: compare the low 32 bits.
    return static_cast<std::uint32_t>(about.f_type);
}

model::Problem newer_schema(const std::string& path, std::int64_t schema) {
    return {path,
            "it was made by a newer version of this program (schema " + std::to_string(schema) +
                ", this one knows up to " + std::to_string(newest_schema()) + ")",
            "open it with the newer version; nothing was changed"};
}

model::Result<There> look_at(const std::string& path) {
    const std::string remedy = "give the store another name, or move that file away";
    struct stat about{};
    if (::lstat(path.c_str(), &about) != 0) {
        return There::Nothing;
    }
    if (S_ISDIR(about.st_mode)) {
        return model::Problem{path, "it is a folder", "give the name of the store's file in it"};
    }
    if (!S_ISREG(about.st_mode)) {
        return model::Problem{path, "it is a link or a device, not a file", remedy};
    }
    if (::access(path.c_str(), R_OK | W_OK) != 0) {
        return model::Problem{path, "it may not be read and written by this user",
                              "check the rights on file and folder"};
    }
    if (about.st_size == 0) {
        return model::Problem{path, "it is an empty file, not a store", remedy};
    }
    const auto header = read_header(path);
    constexpr std::string_view kMagic("SQLite format 3\0", 16);
    if (!header || std::string_view(reinterpret_cast<const char*>(header->data()), kMagic.size()) != kMagic) {
        return model::Problem{path, "it is not a store: it is a file of another kind", remedy};
    }
    if (big_endian(*header, 68) != kApplicationId) {
        return model::Problem{path, "it is not a store: it is a database of another program", remedy};
    }
    const std::int64_t schema = big_endian(*header, 60);
    if (schema > newest_schema()) {
        return newer_schema(path, schema);
    }
    return There::Store;
}

void keep_private(const std::string& path) {
    for (const char* tail : {"", "-wal", "-journal"}) {
        ::chmod((path + tail).c_str(), S_IRUSR | S_IWUSR);
    }
}

std::uint64_t size_of(const std::string& path) {
    struct stat about{};
    return ::lstat(path.c_str(), &about) == 0 ? static_cast<std::uint64_t>(about.st_size) : 0U;
}

} // namespace crossarm::store
