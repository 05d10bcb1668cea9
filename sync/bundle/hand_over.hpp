// The way out of the tablet: finished bundles to a stick, a share or any other folder, in a way that can be
// broken off and taken up again.
#pragma once

#include "checklist/model/result.hpp"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace crossarm::bundle {

/// One finished bundle that is to go out.
struct Outgoing {
    std::string device;
    std::int64_t life = 1;
    std::int64_t seq = 0;
    std::string digest;
    std::function<model::Result<std::string>()> bytes; ///< asked when its turn comes
};

/// <device>-<life>-<seq>-<first 8 digits of the digest>.json. Only decoration: intake looks at the content.
[[nodiscard]] std::string file_name(const Outgoing& bundle);

/// How far it came.
struct HandedOver {
    std::size_t written = 0;
    std::size_t there_already = 0; ///< byte for byte, from an attempt before
    std::size_t left = 0;          ///< not there yet
    /// Why it stopped; nothing when everything is there.
    std::optional<model::Problem> stopped;
};

/// Writes each bundle to a file of its own in `folder`; each is there whole or not at all (atomic_file.hpp).
/// What is there already is not written again, so after a full or pulled-out stick the same call goes on
/// where it stopped. `arrived` is told of each bundle that is on the medium, also of those from before; a
/// Problem from it stops too. Nothing in the folder is removed or changed.
[[nodiscard]] HandedOver
hand_over(const std::vector<Outgoing>& bundles, const std::string& folder,
          const std::function<model::Done(const Outgoing&, const std::string& path)>& arrived);

/// All of them in one file, one a line (.jsonl), read and written one after the other: whole or not at all.
/// Problem when the medium fails or a bundle cannot be read.
[[nodiscard]] model::Done hand_over_in_one(const std::vector<Outgoing>& bundles, const std::string& path);

} // namespace crossarm::bundle
