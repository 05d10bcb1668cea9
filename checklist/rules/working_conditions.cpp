#include "checklist/rules/working_conditions.hpp"

#include "checklist/rules/answer.hpp"

#include <algorithm>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;
using model::When;

Outcome wind(const WindReadings& r, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "conditions.wind";
    if (!within(r.speed_m_s, 0.0, 75.0) || (r.plate_m_s && !within(*r.plate_m_s, 1.0, 40.0))) {
        return refuse(kSubject, say("no.conditions.wind"));
    }
    Needs needs(limits);
    const double caution = needs.take("wind.caution_from", Unit::MetrePerSecond);
    const double climbing = needs.take("wind.no_climbing_above", Unit::MetrePerSecond);
    const double platform = needs.take("wind.platform_above", Unit::MetrePerSecond);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const double lift = std::min(platform, r.plate_m_s.value_or(platform));
    Verdict v;
    v.subject = kSubject;
    v.workings = {{"work.conditions.wind", {r.speed_m_s, Unit::MetrePerSecond}, ""},
                  {"work.conditions.platform", {lift, Unit::MetrePerSecond}, ""}};
    const Places places = {{"wind", Quantity{r.speed_m_s, Unit::MetrePerSecond}},
                           {"climbing", Quantity{climbing, Unit::MetrePerSecond}},
                           {"platform", Quantity{lift, Unit::MetrePerSecond}}};
    v.source = limits.source_of("wind.caution_from");
    v.because = say("because.conditions.wind_low", places);
    if (r.speed_m_s > lift) {
        v.source = limits.source_of("wind.platform_above");
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns, say("because.conditions.wind_platform", places),
                 say("action.conditions.all_down"));
    } else if (r.speed_m_s > climbing) {
        v.source = limits.source_of("wind.no_climbing_above");
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns, say("because.conditions.wind_climbing", places),
                 say("action.conditions.no_climbing"));
    } else if (r.speed_m_s >= caution) {
        grade_as(v, Grade::Watch, When::BeforeSupplyReturns, say("because.conditions.wind_caution", places),
                 say("action.conditions.wind_watch"));
    }
    v.cautions = {say("caution.conditions.gusts")};
    return v;
}

std::optional<double> flash_distance_m(double flash_to_thunder_s) {
    constexpr double kSound_m_s = 343.0; // in air at 20 °C
    if (!within(flash_to_thunder_s, 0.0, 300.0)) {
        return std::nullopt;
    }
    return kSound_m_s * flash_to_thunder_s;
}

Outcome lightning(const LightningReadings& r, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "conditions.lightning";
    if ((r.flash_to_thunder_s && !within(*r.flash_to_thunder_s, 0.0, 300.0)) ||
        (r.minutes_since_last && !within(*r.minutes_since_last, 0.0, 1440.0))) {
        return refuse(kSubject, say("no.conditions.lightning"));
    }
    Needs needs(limits);
    const double wait_min = needs.take("lightning.wait", Unit::Minute);
    const double near_s = needs.take("lightning.stop_within", Unit::Second);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    Verdict v;
    v.subject = kSubject;
    v.source = limits.source_of("lightning.wait");
    v.because = say("because.conditions.no_lightning");
    if (!r.flash_to_thunder_s && !r.minutes_since_last) {
        return v;
    }
    // A flash whose time was not noted is taken as just now.
    const double since_min = r.minutes_since_last.value_or(0.0);
    const double left_min = std::max(0.0, wait_min - since_min);
    if (r.flash_to_thunder_s) {
        v.workings.push_back({"work.conditions.flash",
                              {*flash_distance_m(*r.flash_to_thunder_s), Unit::Metre},
                              model::number_for_people(*r.flash_to_thunder_s) + " × 343"});
    }
    v.workings.push_back({"work.conditions.wait", {left_min, Unit::Minute}, ""});
    const Places places = {{"left", Quantity{left_min, Unit::Minute}},
                           {"wait", Quantity{wait_min, Unit::Minute}}};
    if (left_min > 0.0) {
        const bool near = r.flash_to_thunder_s && *r.flash_to_thunder_s <= near_s;
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns,
                 say(near ? "because.conditions.lightning_near" : "because.conditions.lightning", places),
                 say("action.conditions.lightning_down", places));
        v.cautions = {say("caution.conditions.shelter"), say("caution.conditions.line_far")};
    } else {
        grade_as(v, Grade::Watch, When::BeforeSupplyReturns, say("because.conditions.lightning_over", places),
                 say("action.conditions.lightning_listen"));
    }
    return v;
}

} // namespace crossarm::rules
