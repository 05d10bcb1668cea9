// The tank.
#include "checklist/rules/tank.hpp"

#include "checklist/rules/grading.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

namespace {

bool possible(const LevelReadings& r) {
    return within(r.level_percent, 0.0, 100.0) && within(r.oil_C, -20.0, 120.0) &&
           (!r.oil_litres || within(*r.oil_litres, 10.0, 20'000.0));
}

struct Marks {
    double low_C, high_C, expansion_per_K;
};

std::optional<Marks> marks_of(const model::LimitSet& gauge) {
    Needs needs(gauge);
    const Marks marks{needs.take("gauge.low", Unit::Celsius), needs.take("gauge.high", Unit::Celsius),
                      needs.take("expansion", Unit::One)};
    if (!needs.ok() || marks.high_C - marks.low_C < 10.0 || !within(marks.expansion_per_K, 1e-4, 2e-3)) {
        return std::nullopt;
    }
    return marks;
}

} // namespace

std::optional<double> expected_level_percent(double oil_C, const model::LimitSet& gauge) {
    const auto marks = marks_of(gauge);
    if (!marks || !within(oil_C, -20.0, 120.0)) {
        return std::nullopt;
    }
    const double percent = 100.0 * (oil_C - marks->low_C) / (marks->high_C - marks->low_C);
    return std::clamp(percent, 0.0, 100.0);
}

std::optional<double> litres_between_marks(double oil_litres, const model::LimitSet& gauge) {
    const auto marks = marks_of(gauge);
    if (!marks || !within(oil_litres, 10.0, 20'000.0)) {
        return std::nullopt;
    }
    return oil_litres * marks->expansion_per_K * (marks->high_C - marks->low_C);
}

Outcome level(const LevelReadings& r, const model::LimitSet& gauge) {
    constexpr const char* kSubject = "tank.level";
    if (!possible(r)) {
        return no_verdict(kSubject, "tank.impossible");
    }
    const auto expected = expected_level_percent(r.oil_C, gauge);
    const auto surplus_limit = gauge.value("surplus.watch_above", Unit::Percent);
    const double shortfall = expected ? *expected - r.level_percent : 0.0;
    const auto graded = grade_high_is_bad(gauge, "shortfall", shortfall, Unit::Percent);
    if (!expected || !graded || !surplus_limit) {
        return no_verdict(kSubject, "tank.no_limit", {{"set", gauge.title}});
    }
    const bool at_low_mark = r.level_percent <= 0.0;
    const bool too_high = -shortfall > *surplus_limit;

    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.grade = at_low_mark ? Grade::Danger
                    : too_high  ? model::worse(graded->grade, Grade::Watch)
                                : graded->grade;
    verdict.when = usual_when(verdict.grade);
    verdict.source = at_low_mark ? gauge.source_of("gauge.low")
                     : too_high  ? gauge.source_of("surplus.watch_above")
                                 : source_of(gauge, *graded->by);
    verdict.because = {at_low_mark                     ? "tank.level.low_mark"
                       : too_high                      ? "tank.level.too_high"
                       : verdict.grade == Grade::Sound ? "tank.level.sound"
                                                       : "tank.level.short",
                       {{"level", Quantity{r.level_percent, Unit::Percent}},
                        {"expected", Quantity{*expected, Unit::Percent}},
                        {"oil", Quantity{r.oil_C, Unit::Celsius}}}};
    verdict.workings = {
        {"work.tank.expected",
         {*expected, Unit::Percent},
         "100 × (" + model::number_for_people(r.oil_C) + " − low) / (high − low)"},
        {"work.tank.shortfall",
         {shortfall, Unit::Percent},
         model::number_for_people(*expected) + " − " + model::number_for_people(r.level_percent)}};
    if (r.oil_litres) {
        if (const auto between = litres_between_marks(*r.oil_litres, gauge)) {
            verdict.workings.push_back({"work.tank.between_marks", {*between, Unit::Litre}, ""});
            verdict.workings.push_back(
                {"work.tank.top_up", {std::max(0.0, shortfall) / 100.0 * *between, Unit::Litre}, ""});
        }
    }
    if (verdict.grade != Grade::Sound) {
        verdict.action = {at_low_mark ? "tank.level.action.off"
                          : too_high  ? "tank.level.action.lower"
                                      : "tank.level.action.top_up",
                          {}};
        verdict.cautions = {{"tank.caution.same_oil", {}}, {"tank.caution.pcb", {}}};
    }
    return verdict;
}

std::optional<double> leak_litres_per_day(double drops_per_min, const model::LimitSet& leak) {
    const auto drop_L = leak.value("drop.volume", Unit::Litre);
    if (!drop_L || !within(*drop_L, 1e-6, 1e-3) || !within(drops_per_min, 0.0, 600.0)) {
        return std::nullopt;
    }
    return drops_per_min * *drop_L * 24.0 * 60.0;
}

std::optional<double> days_to_low_mark(const LevelReadings& now, double litres_per_day, double coldest_oil_C,
                                       const model::LimitSet& gauge) {
    const auto marks = marks_of(gauge);
    if (!marks || !possible(now) || !now.oil_litres || !within(coldest_oil_C, -20.0, 60.0) ||
        !std::isfinite(litres_per_day) || litres_per_day <= 0.0) {
        return std::nullopt;
    }
    const double above_now = *litres_between_marks(*now.oil_litres, gauge) * now.level_percent / 100.0;
    const double shrinks =
        *now.oil_litres * marks->expansion_per_K * std::max(0.0, now.oil_C - coldest_oil_C);
    return std::max(0.0, above_now - shrinks) / litres_per_day;
}

Outcome leak(const LeakReadings& r, const model::LimitSet& limits, const model::LimitSet& gauge) {
    constexpr const char* kSubject = "tank.leak";
    if (!within(r.drops_per_min, 0.0, 600.0) || !within(r.coldest_oil_C, -20.0, 60.0) ||
        (r.now && !possible(*r.now))) {
        return no_verdict(kSubject, "tank.impossible");
    }
    const auto loss = leak_litres_per_day(r.drops_per_min, limits);
    const auto graded = grade_high_is_bad(limits, "drops", r.drops_per_min, Unit::PerMinute);
    if (!loss || !graded) {
        return no_verdict(kSubject, "tank.no_limit", {{"set", limits.title}});
    }
    std::optional<double> days;
    if (r.now) {
        days = days_to_low_mark(*r.now, *loss, r.coldest_oil_C, gauge);
    }
    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.grade = graded->grade;
    verdict.when = usual_when(verdict.grade);
    verdict.source = source_of(limits, *graded->by);
    if (days && *days < 1.0) {
        verdict.grade = Grade::Danger;
        verdict.when = model::When::BeforeSupplyReturns;
        verdict.source = limits.source_of("drop.volume");
    } else if (days && *days <= 30.0 && verdict.grade != Grade::Danger) {
        verdict.grade = model::worse(verdict.grade, Grade::Repair);
        verdict.when = model::When::Within7Days;
        verdict.source = limits.source_of("drop.volume");
    }
    verdict.workings = {{"work.tank.loss",
                         {*loss, Unit::LitrePerDay},
                         model::number_for_people(r.drops_per_min) + " × drop × 1440 min"}};
    const Quantity litres{*loss, Unit::LitrePerDay};
    const Quantity drops{r.drops_per_min, Unit::PerMinute};
    verdict.because = {r.drops_per_min > 0.0 ? "tank.leak.drips" : "tank.leak.weeps",
                       {{"drops", drops}, {"loss", litres}}};
    if (days) {
        verdict.workings.push_back({"work.tank.days", {*days, Unit::Day}, ""});
        verdict.because = {
            "tank.leak.days",
            {{"drops", drops}, {"loss", litres}, {"days", Quantity{std::floor(*days), Unit::Day}}}};
    }
    if (verdict.grade != Grade::Sound) {
        verdict.action = {verdict.grade == Grade::Danger   ? "tank.leak.action.off"
                          : verdict.grade == Grade::Repair ? "tank.leak.action.mend"
                                                           : "tank.leak.action.watch",
                          {}};
    }
    verdict.cautions = {{"tank.caution.pcb", {}}, {"tank.caution.hot", {}}};
    return verdict;
}

} // namespace crossarm::rules
