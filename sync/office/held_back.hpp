// Files that the office refused, kept whole with the reason: <store>.held-back/<sha256>.json and
// <sha256>.reason.json. The name comes from the content, never from the file's own name.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::office {

/// What the folder may hold at most; beyond it intake stops.
constexpr std::uint64_t kMostHeldFiles = 10'000;
constexpr std::uint64_t kMostHeldBytes = 2ULL * 1024 * 1024 * 1024;

/// Why a file is held back, and since when.
struct Reason {
    std::string file; ///< the name under which it came last
    std::string step; ///< the step of intake that refused it (intake.hpp)
    model::Problem why;
    model::Timestamp held_at;  ///< first time
    model::Timestamp tried_at; ///< last time
    bool operator==(const Reason&) const = default;
};

struct HeldFile {
    std::string copy; ///< path of the bytes
    /// Nothing when the program ended between the copy and its reason: trying it again writes one.
    std::optional<Reason> reason;
};

class HeldBack {
public:
    explicit HeldBack(const std::string& store_path);

    /// Copies `bytes` and writes the reason, both on the disk when it returns. Returns the copy's path. The
    /// same bytes again: the reason is written anew, but for the date of the first time.
    [[nodiscard]] model::Result<std::string> keep(std::string_view bytes, Reason reason) const;
    /// The file was taken after all: the copy and its reason go.
    [[nodiscard]] model::Done release(std::string_view bytes) const;
    /// What is held, by name.
    [[nodiscard]] model::Result<std::vector<HeldFile>> list() const;

    [[nodiscard]] const std::string& folder() const { return folder_; }

private:
    std::string folder_;
};

} // namespace crossarm::office
