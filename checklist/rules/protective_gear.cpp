#include "checklist/rules/protective_gear.hpp"

#include "checklist/rules/answer.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

namespace crossarm::rules {
namespace {

using model::Date;
using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;
using model::When;

// Years 1900 to 2199, as dates are read.
constexpr std::int32_t kFirstDay = -25'567;
constexpr std::int32_t kLastDay = 84'005;

bool possible(Date day) {
    return day.days >= kFirstDay && day.days <= kLastDay;
}

Outcome judge_date(std::string_view subject, const std::string& item, Date tested, Date today,
                   const model::LimitSet& set) {
    if (!possible(tested) || !possible(today) || tested > today) {
        return refuse(subject, say("no.gear.date"));
    }
    Needs needs(set);
    const model::LimitTable* table = needs.table("interval");
    const double warn_days = needs.take("warn.before", Unit::Day);
    if (!needs.ok()) {
        return needs.refusal(subject);
    }
    const model::LimitRow* row = row_of(*table, item);
    const auto months = row != nullptr ? cell(*table, *row, "months", Unit::Month) : std::nullopt;
    const auto due = months ? months_later(tested, static_cast<int>(std::lround(*months))) : std::nullopt;
    if (!due) {
        return refuse(subject, say("no.gear.item", {{"item", item}, {"set", set.title}}));
    }
    const int left_days = due->days - today.days;
    Verdict v;
    v.subject = subject;
    v.source = source_of(set, *table, *row);
    v.workings = {{"work.gear.interval", {*months, Unit::Month}, item},
                  {"work.gear.left", {static_cast<double>(left_days), Unit::Day}, model::to_text(*due)}};
    std::string words = item;
    std::ranges::replace(words, '_', ' ');
    const Places places = {{"item", words}, {"due", model::for_people(*due)}};
    v.because = say("because.gear.in_date", places);
    if (left_days < 0) {
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns, say("because.gear.overdue", places),
                 say("action.gear.put_aside"));
    } else if (left_days <= warn_days) {
        grade_as(v, Grade::Watch, When::Within30Days, say("because.gear.soon", places),
                 say("action.gear.send"));
    }
    v.cautions = {say("caution.gear.look")};
    return v;
}

} // namespace

std::optional<Date> months_later(Date from, int months) {
    if (!possible(from) || months < 0 || months > 240) {
        return std::nullopt;
    }
    namespace chrono = std::chrono;
    const chrono::year_month_day day{chrono::sys_days{chrono::days{from.days}}};
    chrono::year_month_day later = day + chrono::months{months};
    if (!later.ok()) {
        later = later.year() / later.month() / chrono::last;
    }
    return Date{static_cast<std::int32_t>(chrono::sys_days{later}.time_since_epoch().count())};
}

Outcome test_date(const TestDateReadings& readings, const model::LimitSet& set) {
    return judge_date("gear.test_date", readings.item, readings.tested, readings.today, set);
}

Outcome gloves(const GloveReadings& r, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "gear.gloves";
    if (!within(r.voltage_kV, 0.0, 100.0) || r.voltage_kV <= 0.0) {
        return refuse(kSubject, say("no.voltage"));
    }
    Needs needs(set);
    const model::LimitTable* table = needs.table("gloves");
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const model::LimitRow* row = row_of(*table, r.glove_class);
    const auto use_kV = row != nullptr ? cell(*table, *row, "use", Unit::Kilovolt) : std::nullopt;
    if (!use_kV) {
        return refuse(kSubject, say("no.gear.class", {{"class", r.glove_class}}));
    }
    Outcome dated = judge_date(kSubject, "gloves", r.tested, r.today, set);
    auto* v = std::get_if<Verdict>(&dated);
    if (v == nullptr) {
        return dated;
    }
    v->workings.insert(v->workings.begin(), {"work.gear.use", {*use_kV, Unit::Kilovolt}, r.glove_class});
    v->cautions.push_back(say("caution.gear.air_test"));
    if (r.voltage_kV > *use_kV) {
        std::string serves;
        for (const model::LimitRow& other : table->rows) {
            if (serves.empty() && cell(*table, other, "use", Unit::Kilovolt).value_or(0.0) >= r.voltage_kV) {
                serves = other.key;
            }
        }
        const Places places = {{"class", r.glove_class},
                               {"use", Quantity{*use_kV, Unit::Kilovolt}},
                               {"voltage", Quantity{r.voltage_kV, Unit::Kilovolt}},
                               {"serves", serves}};
        v->source = source_of(set, *table, *row);
        grade_as(*v, Grade::Danger, When::BeforeSupplyReturns, say("because.gear.class_low", places),
                 serves.empty() ? say("action.gear.no_class") : say("action.gear.class", places));
    }
    return dated;
}

} // namespace crossarm::rules
