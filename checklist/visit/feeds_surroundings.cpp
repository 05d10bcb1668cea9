// Readings for the rules of vegetation, wind and the crew's gear.
#include "checklist/rules/protective_gear.hpp"
#include "checklist/rules/vegetation.hpp"
#include "checklist/rules/working_conditions.hpp"
#include "checklist/visit/adapters.hpp"
#include "checklist/visit/feed_helpers.hpp"

#include <chrono>
#include <cmath>

namespace crossarm::visit {

namespace {

rules::ClearanceReadings clearance_of(const Feed& feed, double clearance_m) {
    rules::ClearanceReadings out;
    out.clearance_m = clearance_m;
    out.voltage_kV = feed.structure.plate.hv_kV;
    return out;
}

/// The earliest day on which a test can have been that is `full_months` full months old.
std::optional<model::Date> earliest_test(model::Date today, double full_months) {
    if (!rules::within(full_months, 0.0, 240.0)) {
        return std::nullopt;
    }
    namespace chrono = std::chrono;
    const chrono::year_month_day day{chrono::sys_days{chrono::days{today.days}}};
    chrono::year_month_day before = day - chrono::months{std::lround(std::floor(full_months)) + 1};
    if (!before.ok()) {
        before = before.year() / before.month() / chrono::last;
    }
    return model::Date{static_cast<std::int32_t>(chrono::sys_days{before}.time_since_epoch().count()) + 1};
}

} // namespace

Fed feed_clearance(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("vegetation.clearance");
    if (limits == nullptr) {
        return no_limits("vegetation.clearance");
    }
    const auto gap_m = number_of(feed.answer.finding.value);
    return gap_m ? std::optional(rules::clearance(clearance_of(feed, *gap_m), *limits)) : std::nullopt;
}

Fed feed_trim(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("vegetation.clearance");
    const model::LimitSet* growth = feed.limits.for_subject("vegetation.growth");
    if (limits == nullptr || growth == nullptr) {
        return no_limits("vegetation.trim");
    }
    const auto gap_m = number_of(feed.answer.finding.value);
    if (!gap_m) {
        return std::nullopt;
    }
    rules::TrimReadings readings;
    readings.now = clearance_of(feed, *gap_m);
    readings.growth_class = picked_at(feed.state, "trees.species");
    return rules::next_trim(readings, *limits, *growth);
}

Fed feed_wind(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("conditions.wind");
    if (limits == nullptr) {
        return no_limits("conditions.wind");
    }
    const auto speed_m_s = number_of(feed.answer.finding.value);
    return speed_m_s ? std::optional(rules::wind({*speed_m_s, std::nullopt}, *limits)) : std::nullopt;
}

Fed feed_gear(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("gear.test_date");
    if (limits == nullptr) {
        return no_limits("gear.test_date");
    }
    const bool on_people = feed.checkpoint.id == "brief.gloves_harness";
    const char* const items[] = {on_people ? "gloves" : "hot_stick", on_people ? "harness" : "detector"};
    const std::vector<double> months = numbers_of(feed.answer.finding.value);
    if (months.size() != std::size(items)) {
        return std::nullopt;
    }
    const model::Date today = model::day_of(feed.answer.at);
    std::vector<rules::Outcome> outcomes;
    for (std::size_t i = 0; i < months.size(); ++i) {
        const auto tested = earliest_test(today, months[i]);
        if (!tested) {
            return rules::no_verdict("gear.test_date", "no.gear.date");
        }
        outcomes.push_back(rules::test_date({items[i], *tested, today}, *limits));
    }
    rules::Outcome worst = worst_of(outcomes);
    if (auto* verdict = std::get_if<model::Verdict>(&worst)) {
        verdict->cautions.push_back({"caution.gear.full_months", {}});
    }
    return worst;
}

} // namespace crossarm::visit
