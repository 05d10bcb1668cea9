// Clocks that cannot be right: entries from the office's future, clocks that went back, entries of long ago.
// Reported by name and never refused: the order of a visit comes from its sequence, not from clocks.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/timestamp.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace crossarm::office {

struct ClockNote {
    enum class Kind {
        Future,  ///< recorded later than the office's clock showed at intake
        Back,    ///< recorded earlier than the entry before it on the same tablet
        LongAgo, ///< the newest entry is older than a year at intake
    };
    Kind kind = Kind::Future;
    std::string device;
    std::int64_t seq = 0;    ///< the entry's in its visit
    model::Timestamp at;     ///< what the tablet's clock showed
    std::int64_t by_min = 0; ///< by how many minutes, rounded down; at least 1
    bool operator==(const ClockNote&) const = default;
};

/// Clocks of people and tablets differ: what lies within this is not reported. Common practice, no source.
constexpr std::int64_t kClockTolerance_min = 10;

/// The worst note of each kind for each tablet, by tablet. `entries` by device and sequence; `office_now` is
/// the office's clock at intake.
[[nodiscard]] std::vector<ClockNote> check_clocks(const std::vector<model::Entry>& entries,
                                                  model::Timestamp office_now);

} // namespace crossarm::office
