#include "checklist/visit/clock_facts.hpp"

#include "tests/support/catch.hpp"

#include <algorithm>
#include <random>

using namespace crossarm;
using model::Timestamp;

namespace {

Timestamp at(const std::string& text) {
    return model::parse_timestamp(text, "").value();
}

std::vector<model::Entry> entries(const std::vector<std::string>& times, const std::string& device = "one",
                                  std::uint8_t number = 0) {
    std::vector<model::Entry> out;
    for (const std::string& time : times) {
        model::Entry entry;
        entry.device = device;
        entry.seq = static_cast<std::int64_t>(out.size()) + 1;
        entry.id.bytes[14] = number;
        entry.id.bytes[15] = static_cast<std::uint8_t>(entry.seq);
        entry.at = at(time);
        entry.body = model::StageFinished{"arrive"};
        out.push_back(entry);
    }
    return out;
}

std::vector<std::string> keys(const std::vector<visit::Fact>& facts) {
    std::vector<std::string> out;
    for (const visit::Fact& fact : facts) {
        out.push_back(fact.says.key);
    }
    return out;
}

using Keys = std::vector<std::string>;

} // namespace

TEST_CASE("what the times of entries say about the clock") {
    struct Case {
        std::vector<std::string> times;
        std::string now;
        Keys expected;
    };
    const std::vector<Case> cases = {
        {{"2026-11-25T08:00:00Z", "2026-11-25T08:05:00Z"}, "2026-11-25T15:00:00Z", {}},
        {{"2026-11-25T08:00:00Z", "2026-11-25T08:00:00Z"}, "2026-11-25T08:00:00Z", {}},
        // Kept right by half a second; set back by 5 minutes; set back since the last entry.
        {{"2026-11-25T08:00:00.500Z", "2026-11-25T08:00:00Z"}, "2026-11-25T09:00:00Z", {}},
        {{"2026-11-25T08:05:00Z", "2026-11-25T08:00:00Z"}, "2026-11-25T09:00:00Z", {"fact.clock_back"}},
        {{"2026-11-25T08:05:00Z"}, "2026-11-25T08:00:00Z", {"fact.clock_back"}},
        // The same moment under another offset.
        {{"2026-11-25T08:00:00Z", "2026-11-25T09:00:01+01:00"},
         "2026-11-25T09:00:02+01:00",
         {"fact.clock_zone"}},
        // Past midnight where the tablet is, not in Greenwich.
        {{"2026-11-25T23:50:00+05:30", "2026-11-26T00:10:00+05:30"},
         "2026-11-26T01:00:00+05:30",
         {"fact.clock_midnight"}},
        {{"2026-11-26T05:00:00+05:30", "2026-11-26T06:00:00+05:30"}, "2026-11-26T07:00:00+05:30", {}},
        {{"2026-11-25T20:00:00Z"}, "2026-11-26T01:00:00Z", {"fact.clock_midnight"}},
        // 16 h are a long shift; a second more is told.
        {{"2026-11-25T06:00:00Z", "2026-11-25T22:00:00Z"}, "2026-11-25T22:01:00Z", {}},
        {{"2026-11-25T06:00:00Z", "2026-11-25T22:00:01Z"}, "2026-11-25T22:01:00Z", {"fact.clock_pause"}},
        {{"2026-11-25T06:00:00Z", "2027-11-25T06:00:00Z"},
         "2027-11-25T06:00:00Z",
         {"fact.clock_pause", "fact.clock_midnight"}},
    };
    for (const Case& one : cases) {
        INFO(one.times.front() << " ... " << one.now);
        CHECK(keys(visit::clock_facts(entries(one.times), at(one.now))) == one.expected);
    }
    CHECK(visit::clock_facts({}, at("2026-11-25T08:00:00Z")).empty());
}

TEST_CASE("a step back says between which entries, and by how much") {
    const auto facts = visit::clock_facts(entries({"2026-11-25T09:30:00Z", "2026-11-25T08:00:00Z"}),
                                          at("2026-11-25T08:10:00Z"));
    REQUIRE(facts.size() == 1);
    CHECK(facts[0].about.size() == 2);
    CHECK(facts[0].says.values[0].second == model::Phrase::Value(model::Quantity{90.0, model::Unit::Minute}));
    CHECK(facts[0].says.values[1].second == model::Phrase::Value(std::string("Wed 25 Nov 2026, 09:30")));
    const auto zones = visit::clock_facts(
        entries({"2026-11-25T08:00:00Z", "2026-11-25T13:30:00+05:30", "2026-11-25T04:30:00-03:30"}),
        at("2026-11-25T04:40:00-03:30"));
    REQUIRE(zones.size() == 2);
    CHECK(zones[0].says.values[0].second == model::Phrase::Value(std::string("UTC")));
    CHECK(zones[0].says.values[1].second == model::Phrase::Value(std::string("UTC+05:30")));
    CHECK(zones[1].says.values[1].second == model::Phrase::Value(std::string("UTC-03:30")));
}

TEST_CASE("two tablets are looked at apart, in whatever order their entries come") {
    auto all = entries({"2026-11-25T08:00:00Z", "2026-11-25T08:30:00Z"}, "one", 1);
    // The other tablet's clock is an hour behind: that is no step back.
    const auto other =
        entries({"2026-11-25T07:10:00Z", "2026-11-25T07:05:00Z", "2026-11-25T07:40:00Z"}, "two", 2);
    all.insert(all.end(), other.begin(), other.end());
    const auto now = at("2026-11-25T09:00:00Z");
    const auto expected = visit::clock_facts(all, now);
    CHECK(keys(expected) == Keys{"fact.clock_back"});
    std::mt19937 random(3);
    for (int i = 0; i < 200; ++i) {
        std::shuffle(all.begin(), all.end(), random);
        CHECK(visit::clock_facts(all, now) == expected);
    }
}
