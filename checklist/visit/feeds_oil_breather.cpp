// Readings for the rules of oil, breather and tank level.
#include "checklist/rules/breather.hpp"
#include "checklist/rules/oil_breakdown.hpp"
#include "checklist/rules/oil_quality.hpp"
#include "checklist/rules/tank.hpp"
#include "checklist/visit/adapters.hpp"
#include "checklist/visit/feed_helpers.hpp"

namespace crossarm::visit {

Fed feed_breakdown(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("oil.in_service");
    const model::LimitSet* shots = feed.limits.for_subject("oil.shots");
    if (limits == nullptr || shots == nullptr) {
        return no_limits("oil.breakdown");
    }
    return rules::breakdown({numbers_of(feed.answer.finding.value), number_at(feed.state, "oil.temperature")},
                            *limits, *shots);
}

Fed feed_look(const Feed& feed) {
    const model::LimitSet* looks = feed.limits.for_subject("oil.look");
    if (looks == nullptr) {
        return no_limits("oil.look");
    }
    return rules::look(picked_of(feed.answer.finding.value), *looks);
}

Fed feed_gel(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("breather.gel");
    if (limits == nullptr) {
        return no_limits("breather.gel");
    }
    const auto spent = number_of(feed.answer.finding.value);
    if (!spent) {
        return std::nullopt;
    }
    return rules::gel({*spent, picked_at(feed.state, "breather.gel_kind"),
                       picked_at(feed.state, "breather.gel_from") == "top"},
                      *limits);
}

Fed feed_cup(const Feed& feed) {
    const model::LimitSet* cup = feed.limits.for_subject("breather.cup");
    if (cup == nullptr) {
        return no_limits("breather.cup");
    }
    return rules::oil_cup(picked_of(feed.answer.finding.value), *cup);
}

Fed feed_level(const Feed& feed) {
    const model::LimitSet* gauge = feed.limits.for_subject("tank.level");
    if (gauge == nullptr) {
        return no_limits("tank.level");
    }
    const auto level_percent = number_of(feed.answer.finding.value);
    const auto oil_C = number_at(feed.state, "tank.top_oil");
    if (!level_percent || !oil_C) {
        return std::nullopt;
    }
    // The gauge of a sealed tank has one mark for one temperature: the two marks of the rule are not there.
    if (!feed.structure.plate.conservator) {
        return rules::no_verdict("tank.level", "tank.level.sealed", {{"set", gauge->title}});
    }
    return rules::level({*level_percent, *oil_C, feed.structure.plate.oil_litres}, *gauge);
}

Fed feed_leak(const Feed& feed) {
    const model::LimitSet* leak = feed.limits.for_subject("tank.leak");
    const model::LimitSet* gauge = feed.limits.for_subject("tank.level");
    if (leak == nullptr || gauge == nullptr) {
        return no_limits("tank.leak");
    }
    const auto drops = number_of(feed.answer.finding.value);
    if (!drops) {
        return std::nullopt;
    }
    // The days to the low mark need the coldest oil to come, which no visit knows: the drops alone count.
    rules::LeakReadings readings;
    readings.drops_per_min = *drops;
    return rules::leak(readings, *leak, *gauge);
}

} // namespace crossarm::visit
