// Which files of a folder have grown quiet: a file that is still being copied must not be read.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace crossarm::office {

/// What can be seen of a file without reading it.
struct Look {
    std::uint64_t size = 0;
    std::int64_t changed_ns = 0;
    std::uint64_t number = 0; ///< of the file in its file system
    bool operator==(const Look&) const = default;
};

/// A file is offered once when nothing about it has changed for `quiet_ms`, and again only after it changed:
/// one that was refused half copied comes back when the rest of it is there.
class Settling {
public:
    explicit Settling(std::int64_t quiet_ms) : quiet_ms_(quiet_ms) {}

    /// Takes what the folder has at the moment `now_ms` of any clock that never goes back. Returns the names
    /// that are quiet now, sorted.
    [[nodiscard]] std::vector<std::string> see(const std::map<std::string, Look>& there, std::int64_t now_ms);
    /// Offer these again the next time: they could not be looked at after all.
    void again(const std::vector<std::string>& names);
    /// Milliseconds until the next file may be quiet; `otherwise` when none is waited for.
    [[nodiscard]] std::int64_t wait_ms(std::int64_t now_ms, std::int64_t otherwise) const;

private:
    struct Waiting {
        Look look;
        std::int64_t since_ms = 0;
        bool offered = false;
    };
    std::int64_t quiet_ms_;
    std::map<std::string, Waiting> files_;
};

} // namespace crossarm::office
