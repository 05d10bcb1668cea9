// Readings for the rules of bushings, winding insulation and earth electrodes.
#include "checklist/rules/bushings.hpp"
#include "checklist/rules/earthing.hpp"
#include "checklist/rules/insulation.hpp"
#include "checklist/visit/adapters.hpp"
#include "checklist/visit/feed_helpers.hpp"

#include <cmath>

namespace crossarm::visit {

Fed feed_damage(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("bushings.damage");
    if (limits == nullptr) {
        return no_limits("bushings.damage");
    }
    return rules::damage({picked_of(feed.answer.finding.value)}, *limits);
}

Fed feed_insulation(const Feed& feed) {
    const model::LimitSet* minimum = feed.limits.for_subject("insulation.minimum");
    const model::LimitSet* floor = feed.limits.for_subject("insulation.floor");
    const model::LimitSet* correction = feed.limits.for_subject("insulation.correction");
    const model::LimitSet* absorbs = feed.limits.for_subject("insulation.absorption");
    if (minimum == nullptr || floor == nullptr || correction == nullptr || absorbs == nullptr) {
        return no_limits("insulation.resistance");
    }
    const std::vector<double> MOhm = numbers_of(feed.answer.finding.value);
    const auto oil_C = number_at(feed.state, "tank.top_oil");
    if (MOhm.size() != 3 || !oil_C) {
        return std::nullopt;
    }
    const model::Nameplate& plate = feed.structure.plate;
    rules::InsulationReadings readings;
    readings.winding_kV = feed.checkpoint.id == "tank.ir_lv_earth" ? plate.lv_V / 1000.0 : plate.hv_kV;
    readings.rating_kVA = plate.rating_kVA;
    readings.oil_C = *oil_C;
    readings.at_15s_MOhm = MOhm[0];
    readings.at_60s_MOhm = MOhm[1];
    readings.at_600s_MOhm = MOhm[2];
    rules::Outcome resistance = rules::insulation(readings, {*minimum, *floor, *correction});
    rules::Outcome absorption = rules::absorption(readings, *absorbs);
    // Absorption speaks only when it is worse: its refusals (a resistance too high to tell) are no news.
    const auto* slow = std::get_if<model::Verdict>(&absorption);
    const auto* level = std::get_if<model::Verdict>(&resistance);
    const model::Grade grade = level == nullptr ? model::Grade::Sound : level->grade;
    return slow != nullptr && slow->grade > grade ? absorption : resistance;
}

namespace {

/// The middle reading of an earlier visit in the same season, 45 days either way (common practice, no source:
/// soil dries out over a year); the latest one there is.
std::optional<double> last_in_season_ohm(const Feed& feed) {
    constexpr double kYear_d = 365.25;
    constexpr double kSeason_d = 45.0;
    std::optional<double> last;
    for (const model::EarlierReading& earlier : feed.reg.earlier_of(feed.structure.id, feed.checkpoint.id)) {
        const double ago_d = model::day_of(feed.answer.at).days - earlier.on.days;
        const double off_d = std::abs(ago_d - kYear_d * std::round(ago_d / kYear_d));
        const std::vector<double> ohm = numbers_of(earlier.value);
        if (ago_d > kSeason_d && off_d <= kSeason_d && !ohm.empty()) {
            last = ohm[ohm.size() / 2];
        }
    }
    return last;
}

} // namespace

Fed feed_electrode(const Feed& feed) {
    const model::LimitSet* limits = feed.limits.for_subject("earth.electrode");
    if (limits == nullptr) {
        return no_limits("earth.electrode");
    }
    const std::vector<double> ohm = numbers_of(feed.answer.finding.value);
    if (ohm.size() == 1) {
        return rules::electrode_single(ohm[0], *limits);
    }
    if (ohm.size() != 3) {
        return std::nullopt;
    }
    return rules::electrode({ohm[0], ohm[1], ohm[2], last_in_season_ohm(feed)}, *limits);
}

} // namespace crossarm::visit
