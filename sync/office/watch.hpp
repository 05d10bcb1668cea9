// Intake that stays: bundles are taken in as they arrive in a folder.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "sync/office/intake.hpp"

#include <cstdint>
#include <functional>
#include <string>

namespace crossarm::office {

struct WatchManner {
    std::int64_t quiet_ms = 1'000;      ///< a file is taken when it has not changed for so long
    std::int64_t look_ms = 10'000;      ///< the folder is looked at so often even when nothing wakes
    std::int64_t look_blind_ms = 2'000; ///< the same without inotify
    bool move_taken = true;
    std::function<model::Timestamp()> now;
    std::function<bool()> go_on;                        ///< asked before each look; false ends
    std::function<void(const Intake&)> taken;           ///< after each batch
    std::function<void(const model::Problem&)> trouble; ///< the store is held, the disk is full: tried again
};

/// Opens the store for each batch only, so that other commands can use it between. What cannot be taken in
/// now, because another program holds the store or the disk fails, stays in the folder and is tried again.
/// Problem when the folder cannot be read at the beginning; done when `go_on` says so.
[[nodiscard]] model::Done watch(const std::string& store_path, const std::string& folder,
                                const WatchManner& manner);

} // namespace crossarm::office
