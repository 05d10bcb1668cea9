#include "checklist/visit/clock_facts.hpp"

#include <algorithm>
#include <map>

namespace crossarm::visit {

namespace {

using model::Entry;
using model::Phrase;
using model::Timestamp;

constexpr double kMsPerSecond = 1000.0;
constexpr double kSecondsPerHour = 3600.0;

model::Quantity span_of(double seconds) {
    if (seconds < 120.0) {
        return {seconds, model::Unit::Second};
    }
    if (seconds < 2.0 * kSecondsPerHour) {
        return {seconds / 60.0, model::Unit::Minute};
    }
    return {seconds / kSecondsPerHour, model::Unit::Hour};
}

/// "UTC", "UTC+05:30"
std::string zone_of(Timestamp at) {
    const std::string text = model::to_text(at);
    const std::size_t zone = text.find_last_of("Z+-");
    return "UTC" + (text[zone] == 'Z' ? std::string() : text.substr(zone));
}

/// How `after` follows `before`, as far as it is worth telling.
void compare(Timestamp before, Timestamp after, double longest_shift_h, const std::vector<model::Id>& about,
             std::vector<Fact>& facts) {
    const double passed_s = static_cast<double>(after.utc_ms - before.utc_ms) / kMsPerSecond;
    const std::vector<std::pair<std::string, Phrase::Value>> times = {{"by", span_of(std::abs(passed_s))},
                                                                      {"before", model::for_people(before)},
                                                                      {"after", model::for_people(after)}};
    if (passed_s <= -kLeastStepBack_s) {
        facts.push_back({Phrase{"fact.clock_back", times}, about});
    } else if (passed_s > longest_shift_h * kSecondsPerHour) {
        facts.push_back({Phrase{"fact.clock_pause", times}, about});
    }
}

void compare_zone(const Entry& before, const Entry& after, std::vector<Fact>& facts) {
    if (before.at.offset_minutes != after.at.offset_minutes) {
        facts.push_back({Phrase{"fact.clock_zone",
                                {{"from", zone_of(before.at)},
                                 {"to", zone_of(after.at)},
                                 {"after", model::for_people(after.at)}}},
                         {before.id, after.id}});
    }
}

void look_for_midnight(const std::vector<const Entry*>& entries, Timestamp now, std::vector<Fact>& facts) {
    const auto day = [](const Entry* entry) { return model::day_of(entry->at); };
    const auto [first, last] = std::ranges::minmax_element(entries, {}, day);
    const model::Date end = std::max(day(*last), model::day_of(now));
    if (day(*first) != end) {
        facts.push_back(
            {Phrase{"fact.clock_midnight",
                    {{"first", model::for_people(day(*first))}, {"last", model::for_people(end)}}},
             {(*first)->id}});
    }
}

} // namespace

std::vector<Fact> clock_facts(const std::vector<Entry>& entries, Timestamp now, double longest_shift_h) {
    std::map<std::string, std::map<std::int64_t, const Entry*>> by_device;
    for (const Entry& entry : entries) {
        by_device[entry.device][entry.seq] = &entry;
    }
    std::vector<Fact> facts;
    std::vector<const Entry*> in_order;
    for (const auto& [device, of_device] : by_device) {
        const Entry* before = nullptr;
        for (const auto& [seq, entry] : of_device) {
            if (before != nullptr) {
                compare(before->at, entry->at, longest_shift_h, {before->id, entry->id}, facts);
                compare_zone(*before, *entry, facts);
            }
            before = entry;
            in_order.push_back(entry);
        }
        compare(before->at, now, longest_shift_h, {before->id}, facts);
    }
    if (!in_order.empty()) {
        look_for_midnight(in_order, now, facts);
    }
    return facts;
}

} // namespace crossarm::visit
