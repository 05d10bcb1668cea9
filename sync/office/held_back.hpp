// Files that the office refused, kept whole with the reason: <store>.held-back/<sha256>.json and
// <sha256>.reason.json. The name comes from the content, never from the file's own name.
#pragma once

#include "checklist/model/result.hpp"

#include <cstdint>
#include <string>
#include <string_view>

namespace crossarm::office {

/// What the folder may hold at most; beyond it intake stops.
constexpr std::uint64_t kMostHeldFiles = 10'000;
constexpr std::uint64_t kMostHeldBytes = 2ULL * 1024 * 1024 * 1024;

class HeldBack {
public:
    explicit HeldBack(const std::string& store_path);

    /// Copies `bytes` and writes the reason, both on the disk when it returns. `file` is the name under which
    /// it came. Returns the copy's path. The same bytes again: the reason is written anew.
    [[nodiscard]] model::Result<std::string> keep(std::string_view bytes, const std::string& file,
                                                  const model::Problem& why) const;
    /// The file was taken after all: the copy and its reason go.
    [[nodiscard]] model::Done release(std::string_view bytes) const;

    [[nodiscard]] const std::string& folder() const { return folder_; }

private:
    std::string folder_;
};

} // namespace crossarm::office
