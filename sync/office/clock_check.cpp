#include "sync/office/clock_check.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace crossarm::office {

namespace {

constexpr std::int64_t kMinute_ms = 60'000;
constexpr std::int64_t kYear_ms = 365LL * 24 * 60 * kMinute_ms;

using Kind = ClockNote::Kind;
using Worst = std::map<std::pair<std::string, Kind>, ClockNote>;

void note(Worst& worst, Kind kind, const model::Entry& entry, std::int64_t by_ms) {
    ClockNote& kept = worst[{entry.device, kind}];
    if (by_ms / kMinute_ms > kept.by_min) {
        kept = {kind, entry.device, entry.seq, entry.at, by_ms / kMinute_ms};
    }
}

} // namespace

std::vector<ClockNote> check_clocks(const std::vector<model::Entry>& entries, model::Timestamp office_now) {
    Worst worst;
    std::map<std::string, const model::Entry*> newest;
    const model::Entry* before = nullptr;
    for (const model::Entry& entry : entries) {
        const std::int64_t ahead_ms = entry.at.utc_ms - office_now.utc_ms;
        if (ahead_ms > kClockTolerance_min * kMinute_ms) {
            note(worst, Kind::Future, entry, ahead_ms);
        }
        if (before != nullptr && before->device == entry.device) {
            const std::int64_t back_ms = before->at.utc_ms - entry.at.utc_ms;
            if (back_ms > kClockTolerance_min * kMinute_ms) {
                note(worst, Kind::Back, entry, back_ms);
            }
        }
        before = &entry;
        const model::Entry*& last = newest[entry.device];
        if (last == nullptr || last->at.utc_ms <= entry.at.utc_ms) {
            last = &entry;
        }
    }
    for (const auto& [device, entry] : newest) {
        const std::int64_t age_ms = office_now.utc_ms - entry->at.utc_ms;
        if (age_ms > kYear_ms) {
            note(worst, Kind::LongAgo, *entry, age_ms);
        }
    }
    std::vector<ClockNote> notes;
    for (auto& [key, kept] : worst) {
        notes.push_back(std::move(kept));
    }
    return notes;
}

} // namespace crossarm::office
