#include "checklist/rules/priority.hpp"

#include "checklist/rules/answer.hpp"

#include <algorithm>
#include <array>

namespace crossarm::rules {
namespace {

using model::Date;
using model::Grade;
using model::Quantity;
using model::Unit;
using model::When;

/// One field of the readings, its points and the most it may count.
struct Part {
    const char* name;  ///< words key
    const char* limit; ///< points for one
    double amount;
    double highest; ///< possible amount
};

std::array<Part, 10> parts_of(const PriorityReadings& r) {
    return {
        {{"work.priority.dangers", "points.danger", static_cast<double>(r.dangers), 1000.0},
         {"work.priority.repairs", "points.repair", static_cast<double>(r.repairs), 1000.0},
         {"work.priority.watches", "points.watch", static_cast<double>(r.watches), 1000.0},
         {"work.priority.worsening", "points.worsening", static_cast<double>(r.worsening), 1000.0},
         {"work.priority.out_of_reach", "points.out_of_reach", static_cast<double>(r.out_of_reach), 1000.0},
         {"work.priority.age", "points.year_of_age", r.age_years, 120.0},
         {"work.priority.load", "points.full_load", r.peak_share, 3.0},
         {"work.priority.customers", "points.hundred_customers", r.customers / 100.0, 10'000.0},
         {"work.priority.critical", "points.critical_customer", static_cast<double>(r.critical_customers),
          1000.0},
         {"work.priority.overdue", "points.month_overdue", r.days_overdue / 30.0, 36'500.0}}};
}

} // namespace

std::optional<Score> score(const PriorityReadings& readings, const model::LimitSet& points) {
    Score s;
    for (const Part& part : parts_of(readings)) {
        const auto each = points.value(part.limit, Unit::One);
        if (!each || *each < 0.0 || !within(part.amount, 0.0, part.highest)) {
            return std::nullopt;
        }
        const double gained = *each * part.amount;
        s.parts.push_back({part.name, gained,
                           model::number_for_people(part.amount) + " × " + model::number_for_people(*each)});
        s.total += gained;
    }
    return s;
}

Outcome priority(const PriorityReadings& readings, const model::LimitSet& points) {
    constexpr std::string_view kSubject = "priority";
    Needs needs(points);
    for (const Part& part : parts_of(readings)) {
        (void)needs.take(part.limit, Unit::One);
    }
    const double watch_above = needs.take("total.watch_above", Unit::One);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const auto s = score(readings, points);
    if (!s) {
        return refuse(kSubject, say("no.priority.reading"));
    }
    model::Verdict v;
    v.subject = kSubject;
    v.source = points.source_of("total.watch_above");
    for (const ScorePart& part : s->parts) {
        v.workings.push_back({part.name, {part.points, Unit::One}, part.how});
    }
    v.workings.push_back({"work.priority.total", {s->total, Unit::One}, ""});
    const Places places = {{"total", Quantity{s->total, Unit::One}}};
    if (readings.dangers > 0) {
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns, say("because.priority.danger", places),
                 say("action.priority.first"));
    } else if (readings.repairs > 0) {
        grade_as(v, Grade::Repair, When::Within30Days, say("because.priority.repair", places),
                 say("action.priority.plan"));
    } else if (readings.watches > 0 || s->total > watch_above) {
        grade_as(v, Grade::Watch, When::AtNextVisit, say("because.priority.watch", places),
                 say("action.priority.next"));
    } else {
        v.because = say("because.priority.low", places);
    }
    return v;
}

std::optional<NextVisit> next_visit(const NextVisitReadings& r, const model::LimitSet& points) {
    constexpr double kDaysInMonth = 365.25 / 12.0;
    constexpr std::array<const char*, 4> kIntervals = {"interval.sound", "interval.watch", "interval.repair",
                                                       "interval.danger"};
    const auto halves_above = points.value("score.halves_above", Unit::One);
    const auto incomplete = points.value("interval.incomplete", Unit::Month);
    if (!halves_above || !incomplete || !within(r.score, 0.0, 1e6)) {
        return std::nullopt;
    }
    // The least of all grades up to the worst: a set whose intervals are out of order stays monotone.
    double months = 1e9;
    std::string by;
    for (std::size_t grade = 0; grade <= static_cast<std::size_t>(r.worst); ++grade) {
        const auto interval = points.value(kIntervals[grade], Unit::Month);
        if (!interval || !within(*interval, 0.0, 240.0)) {
            return std::nullopt;
        }
        if (*interval < months) {
            months = *interval;
            by = kIntervals[grade];
        }
    }
    if (!r.complete && *incomplete < months) {
        months = *incomplete;
        by = "interval.incomplete";
    }
    if (r.score > *halves_above) {
        months /= 2.0;
    }
    NextVisit next{Date{r.done.days + static_cast<std::int32_t>(months * kDaysInMonth)}, by};
    for (const auto& [subject, date] : r.asked) {
        const Date at = std::max(date, r.done);
        if (at < next.due) {
            next = {at, subject};
        }
    }
    return next;
}

} // namespace crossarm::rules
