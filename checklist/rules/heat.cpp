#include "checklist/rules/heat.hpp"

#include "checklist/rules/answer.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace crossarm::rules {
namespace {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;
using model::When;

double to_F(double C) {
    return C * 9.0 / 5.0 + 32.0;
}
double to_C(double F) {
    return (F - 32.0) * 5.0 / 9.0;
}

/// US National Weather Service, "The Heat Index Equation"; temperature in °F, humidity in percent.
double heat_index_F(double T, double RH) {
    const double simple = 0.5 * (T + 61.0 + (T - 68.0) * 1.2 + RH * 0.094);
    if (simple < 80.0) {
        return simple;
    }
    double index = -42.379 + 2.04901523 * T + 10.14333127 * RH - 0.22475541 * T * RH - 0.00683783 * T * T -
                   0.05481717 * RH * RH + 0.00122874 * T * T * RH + 0.00085282 * T * RH * RH -
                   0.00000199 * T * T * RH * RH;
    if (RH < 13.0 && T >= 80.0 && T <= 112.0) {
        index -= (13.0 - RH) / 4.0 * std::sqrt((17.0 - std::abs(T - 95.0)) / 17.0);
    }
    if (RH > 85.0 && T >= 80.0 && T <= 87.0) {
        index += (RH - 85.0) / 10.0 * ((87.0 - T) / 5.0);
    }
    return index;
}

} // namespace

std::optional<double> heat_index_C(double temperature_C, double humidity_percent) {
    if (!within(temperature_C, -20.0, 50.0) || !within(humidity_percent, 0.0, 100.0)) {
        return std::nullopt;
    }
    return to_C(heat_index_F(to_F(temperature_C), humidity_percent));
}

Outcome heat(const HeatReadings& r, const model::LimitSet& bands) {
    constexpr std::string_view kSubject = "conditions.heat";
    if (!within(r.temperature_C, -40.0, 60.0) || !within(r.humidity_percent, 0.0, 100.0)) {
        return refuse(kSubject, say("no.conditions.heat"));
    }
    Needs needs(bands);
    const model::LimitTable* table = needs.table("bands");
    const double sun_K = needs.take("sun.adds", Unit::Kelvin);
    const double highest_C = needs.take("valid.temperature_up_to", Unit::Celsius);
    if (!needs.ok() || table->rows.empty()) {
        return needs.refusal(kSubject);
    }
    if (r.temperature_C > highest_C) {
        return refuse(kSubject,
                      say("no.conditions.too_hot", {{"highest", Quantity{highest_C, Unit::Celsius}}}));
    }
    // Below the index's range the air temperature itself stands in.
    const double shade_C =
        heat_index_C(std::max(r.temperature_C, -20.0), r.humidity_percent).value_or(r.temperature_C);
    const double felt_C = shade_C + (r.full_sun ? sun_K : 0.0);
    const model::LimitRow* band = &table->rows.front();
    int place = 0;
    for (std::size_t i = 1; i < table->rows.size(); ++i) {
        if (felt_C >= cell(*table, table->rows[i], "from", Unit::Celsius).value_or(1e9)) {
            band = &table->rows[i];
            place = static_cast<int>(i);
        }
    }
    const double rest_min = cell(*table, *band, "rest", Unit::Minute).value_or(0.0);
    Verdict v;
    v.subject = kSubject;
    v.source = source_of(bands, *table, *band);
    v.workings = {{"work.conditions.index", {shade_C, Unit::Celsius}, ""},
                  {"work.conditions.felt", {felt_C, Unit::Celsius}, ""},
                  {"work.conditions.rest", {rest_min, Unit::Minute}, ""}};
    const Places places = {{"felt", Quantity{felt_C, Unit::Celsius}},
                           {"rest", Quantity{rest_min, Unit::Minute}}};
    v.grade = static_cast<Grade>(std::min(place, static_cast<int>(Grade::Danger)));
    v.because = say(place == 0 ? "because.conditions.heat_low" : "because.conditions.heat", places);
    if (v.grade != Grade::Sound) {
        v.when = When::BeforeSupplyReturns;
        v.action = say(
            v.grade == Grade::Danger ? "action.conditions.heat_stop" : "action.conditions.heat_rest", places);
        v.cautions = {say("caution.conditions.heat_stroke"), say("caution.conditions.heat_new")};
    }
    return v;
}

std::optional<double> wbgt_C(double natural_wet_bulb_C, double globe_C, double air_C) {
    if (!within(natural_wet_bulb_C, -20.0, 80.0) || !within(globe_C, -20.0, 80.0) ||
        !within(air_C, -20.0, 80.0)) {
        return std::nullopt;
    }
    return 0.7 * natural_wet_bulb_C + 0.2 * globe_C + 0.1 * air_C;
}

std::optional<double> niosh_limit_C(double metabolic_W, bool used_to_heat) {
    if (!within(metabolic_W, 100.0, 600.0)) {
        return std::nullopt;
    }
    return used_to_heat ? 56.7 - 11.5 * std::log10(metabolic_W) : 59.9 - 14.1 * std::log10(metabolic_W);
}

Outcome wbgt_work(double wbgt_C, Work work, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "conditions.wbgt";
    constexpr std::array<std::string_view, 4> kColumns = {"light", "moderate", "heavy", "very_heavy"};
    if (!within(wbgt_C, -20.0, 60.0)) {
        return refuse(kSubject, say("no.conditions.heat"));
    }
    Needs needs(set);
    const model::LimitTable* table = needs.table("screening");
    if (!needs.ok() || table->rows.empty()) {
        return needs.refusal(kSubject);
    }
    Verdict v;
    v.subject = kSubject;
    v.workings = {{"work.conditions.wbgt", {wbgt_C, Unit::Celsius}, ""}};
    for (std::size_t i = 0; i < table->rows.size(); ++i) {
        const model::LimitRow& row = table->rows[i];
        const auto limit_C = cell(*table, row, kColumns[static_cast<std::size_t>(work)], Unit::Celsius);
        const auto share = cell(*table, row, "work_up_to", Unit::Percent);
        if (!limit_C || !share || *limit_C <= 0.0 || wbgt_C > *limit_C) {
            continue;
        }
        v.source = source_of(set, *table, row);
        v.workings.push_back({"work.conditions.share", {*share, Unit::Percent}, row.key});
        const Places places = {{"wbgt", Quantity{wbgt_C, Unit::Celsius}},
                               {"share", Quantity{*share, Unit::Percent}}};
        v.because = say("because.conditions.wbgt", places);
        if (*share < 100.0) {
            v.grade = i < 2 ? Grade::Watch : Grade::Repair;
            v.when = When::BeforeSupplyReturns;
            v.action = say("action.conditions.wbgt_rest", places);
            v.cautions = {say("caution.conditions.heat_stroke"), say("caution.conditions.heat_new")};
        }
        return v;
    }
    v.source = source_of(set, *table, table->rows.back());
    grade_as(v, Grade::Danger, When::BeforeSupplyReturns,
             say("because.conditions.wbgt_none", {{"wbgt", Quantity{wbgt_C, Unit::Celsius}}}),
             say("action.conditions.heat_stop", {{"rest", Quantity{60.0, Unit::Minute}}}));
    v.cautions = {say("caution.conditions.heat_stroke"), say("caution.conditions.heat_new")};
    return v;
}

} // namespace crossarm::rules
