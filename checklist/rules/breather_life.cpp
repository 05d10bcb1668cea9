// The breather: breathing, life of the gel, regeneration, oil cup.
#include "checklist/rules/breather.hpp"

#include "checklist/rules/grading.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

double water_in_air_g_m3(double air_C, double humidity_percent) {
    const double saturation_Pa = 611.2 * std::exp(17.62 * air_C / (243.12 + air_C));
    constexpr double kGasConstantOfVapour_J_gK = 0.4615;
    return saturation_Pa * humidity_percent / 100.0 / (kGasConstantOfVapour_J_gK * (air_C + 273.15));
}

std::optional<Breath> breath_of_a_day(const BreathReadings& r, const model::LimitSet& practice) {
    const auto expansion_per_K = practice.value("expansion", Unit::One);
    if (!expansion_per_K || !within(*expansion_per_K, 1e-4, 2e-3) || !within(r.oil_litres, 10.0, 20'000.0) ||
        !within(r.air_swing_K, 0.0, 60.0) || !within(r.load_swing_K, 0.0, 60.0) ||
        !within(r.air_C, -30.0, 55.0) || !within(r.humidity_percent, 0.0, 100.0)) {
        return std::nullopt;
    }
    Breath breath;
    breath.air_litres = r.oil_litres * *expansion_per_K * (r.air_swing_K + r.load_swing_K);
    breath.water_per_air_g_m3 = water_in_air_g_m3(r.air_C, r.humidity_percent);
    breath.water_g = breath.air_litres / 1000.0 * breath.water_per_air_g_m3;
    return breath;
}

std::optional<double> gel_capacity_percent(double humidity_percent, const model::LimitSet& practice) {
    const auto working = practice.value("gel.capacity", Unit::Percent);
    const auto* table = practice.table("uptake");
    if (!working || !within(*working, 1.0, 50.0) || table == nullptr ||
        !within(humidity_percent, 0.0, 100.0)) {
        return std::nullopt;
    }
    std::optional<double> last_humidity;
    double last_uptake = 0.0;
    for (const auto& row : table->rows) {
        const auto humidity = cell(*table, row, "humidity", Unit::Percent);
        const auto uptake = cell(*table, row, "uptake", Unit::Percent);
        if (!humidity || !uptake || (last_humidity && *humidity <= *last_humidity)) {
            return std::nullopt;
        }
        if (humidity_percent <= *humidity) {
            const double share =
                last_humidity ? (humidity_percent - *last_humidity) / (*humidity - *last_humidity) : 1.0;
            return std::min(*working, last_uptake + share * (*uptake - last_uptake));
        }
        last_humidity = humidity;
        last_uptake = *uptake;
    }
    return std::nullopt;
}

std::optional<double> gel_for_days(const BreathReadings& readings, double days,
                                   const model::LimitSet& practice) {
    const auto breath = breath_of_a_day(readings, practice);
    const auto capacity = gel_capacity_percent(readings.humidity_percent, practice);
    if (!breath || !capacity || *capacity <= 0.0 || !within(days, 1.0, 20'000.0)) {
        return std::nullopt;
    }
    return breath->water_g * days / (*capacity / 100.0) / 1000.0;
}

std::optional<double> gel_for_rating(double rating_kVA, const model::LimitSet& practice) {
    const auto* table = practice.table("by_rating");
    if (table == nullptr || !within(rating_kVA, 5.0, 5000.0)) {
        return std::nullopt;
    }
    const auto* row = row_up_to(*table, rating_kVA, Unit::KilovoltAmpere);
    return row != nullptr ? cell(*table, *row, "gel", Unit::Kilogram) : std::nullopt;
}

Outcome gel_life(const GelLifeReadings& r, model::Date today, const model::LimitSet& gel,
                 const model::LimitSet& practice) {
    constexpr const char* kSubject = "breather.life";
    if (r.kind == "none") {
        return no_verdict(kSubject, "breather.none");
    }
    if (!within(r.gel_kg, 0.05, 20.0) || !within(r.spent_percent, 0.0, 100.0) ||
        (r.days_since_change && !within(*r.days_since_change, 1.0, 20'000.0))) {
        return no_verdict(kSubject, "breather.life.impossible");
    }
    const auto breath = breath_of_a_day(r.breath, practice);
    if (!breath) {
        return no_verdict(kSubject, "breather.life.impossible");
    }
    const auto capacity = gel_capacity_percent(r.breath.humidity_percent, practice);
    const auto leak_factor = practice.value("leak.factor", Unit::One);
    const auto usual_days = practice.value("visit.usual", Unit::Day);
    const auto latest_days = practice.value("visit.latest", Unit::Day);
    const char* exchange_name =
        gel.find("spent.repair_from") != nullptr ? "spent.repair_from" : "spent.repair_above";
    const auto exchange_percent = gel.value(exchange_name, Unit::Percent);
    if (!capacity || !leak_factor || !usual_days || !latest_days || !exchange_percent ||
        !within(*exchange_percent, 1.0, 100.0) || !within(*latest_days, 1.0, 20'000.0)) {
        return no_verdict(kSubject, "breather.no_limit", {{"set", practice.title}});
    }

    // Share of the gel spent in a day, by breathing and as seen; air without water spends none.
    const double worked_out =
        breath->water_g <= 0.0 ? 0.0 : 100.0 * breath->water_g / (r.gel_kg * 1000.0 * *capacity / 100.0);
    const double seen = r.days_since_change ? r.spent_percent / *r.days_since_change : 0.0;
    const double rate = std::max(worked_out, seen);
    const double to_go = std::max(0.0, *exchange_percent - r.spent_percent);
    const double days = rate > 0.0 ? std::min(*latest_days, to_go / rate) : *latest_days;
    // A few percent are read off the glass by eye: a leak is told from a clear part spent.
    const auto clear_share = practice.value("leak.from", Unit::Percent).value_or(25.0);
    const bool leak = seen > *leak_factor * worked_out && r.spent_percent >= clear_share;

    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.grade = leak || to_go == 0.0 ? Grade::Repair : days < *usual_days ? Grade::Watch : Grade::Sound;
    verdict.when = usual_when(verdict.grade);
    verdict.source = practice.source_of(leak ? "leak.factor" : "visit.usual");
    const model::Date visit{today.days + static_cast<std::int32_t>(days)};
    const std::string key = leak           ? "breather.life.leak"
                            : to_go == 0.0 ? "breather.life.over"
                                           : "breather.life.lasts";
    verdict.because = {key,
                       {{"days", Quantity{std::floor(days), Unit::Day}},
                        {"by", model::for_people(visit)},
                        {"share", Quantity{*exchange_percent, Unit::Percent}},
                        {"times", Quantity{worked_out > 0.0 ? seen / worked_out : 0.0, Unit::One}}}};
    if (verdict.grade != Grade::Sound) {
        verdict.action = {leak                             ? "breather.gel.action.find_leak"
                          : verdict.grade == Grade::Repair ? "breather.gel.action.exchange"
                                                           : "breather.life.action.plan",
                          {{"by", model::for_people(visit)}}};
        verdict.cautions = gel_cautions(r.kind);
    }
    const std::string litres = model::number_for_people(r.breath.oil_litres);
    verdict.workings = {
        {"work.breather.air",
         {breath->air_litres, Unit::LitrePerDay},
         litres + " L × " + model::number_for_people(*practice.value("expansion", Unit::One), 5) + " × " +
             model::number_for_people(r.breath.air_swing_K + r.breath.load_swing_K) + " K"},
        {"work.breather.water_in_air", {breath->water_per_air_g_m3, Unit::GramPerCubicMetre}, ""},
        {"work.breather.water",
         {breath->water_g, Unit::GramPerDay},
         model::number_for_people(breath->air_litres) + " / 1000 × " +
             model::number_for_people(breath->water_per_air_g_m3)},
        {"work.breather.capacity",
         {r.gel_kg * 1000.0 * *capacity / 100.0, Unit::Gram},
         model::number_for_people(r.gel_kg * 1000.0) + " g × " + model::number_for_people(*capacity) + " %"},
        {"work.breather.rate_worked_out", {worked_out, Unit::Percent}, ""},
        {"work.breather.rate_seen", {seen, Unit::Percent}, ""},
        {"work.breather.days",
         {days, Unit::Day},
         "(" + model::number_for_people(*exchange_percent) + " − " +
             model::number_for_people(r.spent_percent) + ") / " + model::number_for_people(rate, 3)},
    };
    return verdict;
}

std::optional<Regeneration> regenerate(const std::string& kind, int times_done,
                                       const model::LimitSet& regeneration) {
    const auto* table = regeneration.table("regeneration");
    const auto* row = table == nullptr ? nullptr : row_of(*table, kind);
    if (row == nullptr || times_done < 0) {
        return std::nullopt;
    }
    const auto low_C = cell(*table, *row, "from", Unit::Celsius);
    const auto high_C = cell(*table, *row, "to", Unit::Celsius);
    const auto low_hours = cell(*table, *row, "hours_from", Unit::Hour);
    const auto high_hours = cell(*table, *row, "hours_to", Unit::Hour);
    const auto times = cell(*table, *row, "times", Unit::One);
    if (!low_C || !high_C || !low_hours || !high_hours || !times || !within(*times, 0.0, 1000.0)) {
        return std::nullopt;
    }
    Regeneration out;
    out.low_C = *low_C;
    out.high_C = *high_C;
    out.low_hours = *low_hours;
    out.high_hours = *high_hours;
    out.times_left = std::max(0, static_cast<int>(*times) - times_done);
    out.source = source_of(regeneration, *table, *row);
    out.cautions = gel_cautions(kind);
    out.cautions.push_back({"breather.caution.oven", {}});
    return out;
}

Outcome oil_cup(const std::string& seen, const model::LimitSet& cup) {
    constexpr const char* kSubject = "breather.cup";
    auto verdict = grade_by_sight(kSubject, cup, "cup", seen);
    if (!verdict) {
        return no_verdict(kSubject, "breather.cup.unknown", {{"seen", seen}});
    }
    if (verdict->grade != Grade::Sound) {
        verdict->action = {"breather.cup.action", {}};
    }
    return *verdict;
}

} // namespace crossarm::rules
