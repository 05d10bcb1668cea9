#include "sync/bundle/atomic_file.hpp"

#include "checklist/model/digest.hpp"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <sys/stat.h>
#include <unistd.h>
#include <utility>
#include <vector>

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
    const std::string what = std::string(act) + ": " + std::strerror(error);
    switch (error) {
    case ENOSPC:
    case EDQUOT:
        return {path, what, "make room there, or choose another place"};
    case EIO:
    case ENODEV:
    case ENXIO:
        return {path, what,
                "the medium was pulled out or is faulty: put it back in or take another one, then try again"};
    case EROFS:
        return {path, what, "the medium is locked against writing: unlock it, or take another one"};
    default:
        return {path, what, "check the place and its permissions, then try again"};
    }
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

/// Reads until `bytes` is full or the file ends; shortens it then. False when the disk fails.
bool read_all(int descriptor, std::string& bytes) {
    std::size_t have = 0;
    while (have < bytes.size()) {
        const ssize_t got = ::read(descriptor, bytes.data() + have, bytes.size() - have);
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got < 0) {
            return false;
        }
        if (got == 0) {
            break;
        }
        have += static_cast<std::size_t>(got);
    }
    bytes.resize(have);
    return true;
}

/// Writes piece after piece; the digest of each must come back when it is read again.
Result<std::vector<std::pair<std::size_t, model::Digest>>> write_part(const std::string& part,
                                                                      const NextPiece& next) {
    const File file(::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0644));
    if (file.get() < 0) {
        return failure(part, "cannot be made", errno);
    }
    std::vector<std::pair<std::size_t, model::Digest>> written;
    for (;;) {
        const auto piece = next();
        if (!piece) {
            return piece.problem();
        }
        if (piece->empty()) {
            break;
        }
        if (!write_all(file.get(), *piece)) {
            return failure(part, "cannot be written", errno);
        }
        written.emplace_back(piece->size(), model::sha256(*piece));
    }
    if (::fsync(file.get()) != 0) {
        return failure(part, "cannot be brought to the disk", errno);
    }
    // Ask the kernel to drop its copy, so that reading back asks the medium; a hint, not a promise.
    ::posix_fadvise(file.get(), 0, 0, POSIX_FADV_DONTNEED);
    return written;
}

/// False when the file holds anything else than these pieces.
bool reads_back(const std::string& part, const std::vector<std::pair<std::size_t, model::Digest>>& pieces) {
    const File file(::open(part.c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW));
    std::string bytes;
    for (const auto& [size, digest] : pieces) {
        bytes.resize(size);
        if (!read_all(file.get(), bytes) || bytes.size() != size || model::sha256(bytes) != digest) {
            return false;
        }
    }
    bytes.resize(1);
    return read_all(file.get(), bytes) && bytes.empty();
}

Done sync_folder(const std::string& folder) {
    const File file(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (file.get() < 0) {
        return failure(folder, "cannot be opened", errno);
    }
    if (::fsync(file.get()) == 0) {
        return {};
    }
    // Some file systems of sticks do not know fsync of a folder; syncing the whole medium serves instead. Any
    // other failure is one: asked again, the kernel may say that all is well.
    const bool unknown = errno == EINVAL || errno == ENOTSUP;
    if (!unknown || ::syncfs(file.get()) != 0) {
        return failure(folder, "cannot be brought to the disk", errno);
    }
    return {};
}

Done write_checked(const std::string& part, const std::string& path, const NextPiece& next) {
    const auto written = write_part(part, next);
    if (!written) {
        return written.problem();
    }
    if (!reads_back(part, *written)) {
        return Problem{path, "reads back other than it was written", "the medium is faulty: use another one"};
    }
    if (::rename(part.c_str(), path.c_str()) != 0) {
        return failure(path, "cannot be given its name", errno);
    }
    return {};
}

} // namespace

Done write_atomically(const std::string& path, const NextPiece& next) {
    const std::string part = path + ".part";
    if (auto written = write_checked(part, path, next); !written) {
        ::unlink(part.c_str());
        return written;
    }
    const std::string folder = std::filesystem::path(path).parent_path().string();
    return sync_folder(folder.empty() ? "." : folder);
}

Done write_atomically(const std::string& path, std::string_view bytes) {
    bool given = false;
    return write_atomically(path, [&]() -> Result<std::string> {
        return std::exchange(given, true) ? std::string() : std::string(bytes);
    });
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
    if (!read_all(file.get(), bytes)) {
        return failure(path, "cannot be read", errno);
    }
    return bytes;
}

} // namespace crossarm::bundle
