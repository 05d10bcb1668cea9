#include "sync/bundle/atomic_file.hpp"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <sys/stat.h>
#include <unistd.h>

namespace crossarm::bundle {

namespace {

using model::Done;
using model::Problem;
using model::Result;

/// Owns a file descriptor; -1 when nothing is open.
class File {
public:
    explicit File(int descriptor) : descriptor_(descriptor) {}
    File(const File&) = delete;
    File& operator=(const File&) = delete;
    ~File() {
        if (descriptor_ >= 0) {
            ::close(descriptor_);
        }
    }
    [[nodiscard]] int get() const { return descriptor_; }

private:
    int descriptor_;
};

Problem failure(const std::string& path, const char* act, int error) {
    const bool full = error == ENOSPC || error == EDQUOT;
    return {path, std::string(act) + ": " + std::strerror(error),
            full ? "make room there, or choose another place"
                 : "check the place and its permissions, then try again"};
}

bool write_all(int descriptor, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) {
            continue;
        }
        if (written <= 0) {
            return false;
        }
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

Done write_part(const std::string& part, std::string_view bytes) {
    const File file(::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0644));
    if (file.get() < 0) {
        return failure(part, "cannot be made", errno);
    }
    if (!write_all(file.get(), bytes)) {
        return failure(part, "cannot be written", errno);
    }
    if (::fsync(file.get()) != 0) {
        return failure(part, "cannot be brought to the disk", errno);
    }
    // Ask the kernel to drop its copy, so that reading back asks the medium; a hint, not a promise.
    ::posix_fadvise(file.get(), 0, 0, POSIX_FADV_DONTNEED);
    return {};
}

Done sync_folder(const std::string& folder) {
    const File file(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (file.get() < 0) {
        return failure(folder, "cannot be opened", errno);
    }
    // Some file systems of sticks do not know fsync of a folder; syncing the whole medium serves instead.
    if (::fsync(file.get()) != 0 && ::syncfs(file.get()) != 0) {
        return failure(folder, "cannot be brought to the disk", errno);
    }
    return {};
}

Done write_checked(const std::string& part, const std::string& path, std::string_view bytes) {
    if (auto written = write_part(part, bytes); !written) {
        return written;
    }
    const auto back = read_whole(part, bytes.size());
    if (!back || *back != bytes) {
        return Problem{path, "reads back other than it was written", "the medium is faulty: use another one"};
    }
    if (::rename(part.c_str(), path.c_str()) != 0) {
        return failure(path, "cannot be given its name", errno);
    }
    return {};
}

} // namespace

Done write_atomically(const std::string& path, std::string_view bytes) {
    const std::string part = path + ".part";
    if (auto written = write_checked(part, path, bytes); !written) {
        ::unlink(part.c_str());
        return written;
    }
    const std::string folder = std::filesystem::path(path).parent_path().string();
    return sync_folder(folder.empty() ? "." : folder);
}

Result<std::string> read_whole(const std::string& path, std::size_t most) {
    const File file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
    if (file.get() < 0) {
        return failure(path, "cannot be opened", errno);
    }
    struct stat facts{};
    if (::fstat(file.get(), &facts) != 0) {
        return failure(path, "cannot be looked at", errno);
    }
    if (!S_ISREG(facts.st_mode)) {
        return Problem{path, "is not a regular file", "name a file"};
    }
    const Problem too_big{path, "is larger than " + std::to_string(most) + " bytes",
                          "this is not a file of ours, or not one this program can take"};
    if (static_cast<std::size_t>(facts.st_size) > most) {
        return too_big;
    }
    std::string bytes(static_cast<std::size_t>(facts.st_size), '\0');
    std::size_t have = 0;
    while (have < bytes.size()) {
        const ssize_t got = ::read(file.get(), bytes.data() + have, bytes.size() - have);
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got < 0) {
            return failure(path, "cannot be read", errno);
        }
        if (got == 0) {
            break;
        }
        have += static_cast<std::size_t>(got);
    }
    bytes.resize(have);
    return bytes;
}

} // namespace crossarm::bundle
