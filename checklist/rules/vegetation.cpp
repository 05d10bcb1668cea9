#include "checklist/rules/vegetation.hpp"

#include "checklist/rules/answer.hpp"
#include "checklist/rules/least_distance.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace crossarm::rules {
namespace {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;
using model::When;

constexpr double kMonthsPerYear = 12.0;
// A cycle of exactly 24 months must not become 23 by the last bit of a division.
constexpr double kLastBits = 1e-9;

std::optional<model::NoVerdict> impossible(const ClearanceReadings& r, const model::LimitSet& set,
                                           std::string_view subject) {
    if (!within(r.clearance_m, 0.0, 100.0) || !within(r.allowance_m, 0.0, 20.0)) {
        return refuse(subject, say("no.vegetation.distance"));
    }
    if (!within(r.voltage_kV, 0.0, 400.0) || r.voltage_kV <= 0.0) {
        return refuse(subject, say("no.voltage"));
    }
    if ((r.span_m && !within(*r.span_m, 0.0, 5000.0)) ||
        (r.from_support_m && !within(*r.from_support_m, 0.0, r.span_m.value_or(5000.0) / 2.0))) {
        return refuse(subject, say("no.vegetation.span"));
    }
    if (r.span_m) {
        const auto longest = set.value("span.at_most", Unit::Metre);
        if (longest && *r.span_m > *longest) {
            return refuse(subject,
                          say("no.vegetation.span_too_long", {{"span", Quantity{*r.span_m, Unit::Metre}},
                                                              {"longest", Quantity{*longest, Unit::Metre}}}));
        }
    }
    return std::nullopt;
}

Place place_of(const ClearanceReadings& r) {
    return {r.voltage_kV, r.insulated, r.climbable, r.span_m, r.from_support_m};
}

model::NoVerdict no_band(std::string_view subject, double kV, const model::LimitSet& set) {
    if (set.table("long_span") != nullptr) {
        return refuse(subject, say("no.vegetation.long_spans_only", {{"set", set.title}}));
    }
    return refuse(subject, say("no.voltage_not_in_set",
                               {{"voltage", Quantity{kV, Unit::Kilovolt}}, {"set", set.title}}));
}

Verdict judge_distance(std::string subject, const ClearanceReadings& r, const Least& least) {
    const double gap_m = r.clearance_m - r.allowance_m - least.m;
    Verdict v;
    v.subject = std::move(subject);
    v.source = least.source;
    v.workings = {{"work.vegetation.measured", {r.clearance_m, Unit::Metre}, ""},
                  {"work.vegetation.allowance", {r.allowance_m, Unit::Metre}, ""},
                  {"work.vegetation.least", {least.m, Unit::Metre}, ""},
                  {"work.vegetation.gap",
                   {gap_m, Unit::Metre},
                   model::number_for_people(r.clearance_m) + " - " + model::number_for_people(r.allowance_m) +
                       " - " + model::number_for_people(least.m)}};
    const Places places = {{"measured", Quantity{r.clearance_m, Unit::Metre}},
                           {"allowance", Quantity{r.allowance_m, Unit::Metre}},
                           {"least", Quantity{least.m, Unit::Metre}}};
    if (r.clearance_m < least.m) {
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns, say("because.vegetation.below", places),
                 say("action.vegetation.trim_now"));
    } else if (gap_m < 0.0) {
        grade_as(v, Grade::Repair, When::Within30Days, say("because.vegetation.below_in_wind", places),
                 say("action.vegetation.trim_soon"));
    } else {
        v.because = say("because.vegetation.kept", places);
    }
    if (v.grade != Grade::Sound) {
        v.cautions = {say("caution.vegetation.dead_line"), say("caution.vegetation.fire")};
    }
    return v;
}

} // namespace

std::optional<TrimCycle> trim_cycle(double achieved_m, double least_m, double allowance_m,
                                    double growth_m_per_a, int longest_months) {
    if (!within(achieved_m, 0.0, 100.0) || !within(least_m, 0.0, 100.0) || !within(allowance_m, 0.0, 20.0) ||
        !within(growth_m_per_a, 1e-3, 20.0) || longest_months < 0) {
        return std::nullopt;
    }
    TrimCycle cycle;
    cycle.years = (achieved_m - least_m - allowance_m) / growth_m_per_a;
    const double months = std::floor(cycle.years * kMonthsPerYear + kLastBits);
    cycle.months = static_cast<int>(std::clamp(months, 0.0, static_cast<double>(longest_months)));
    return cycle;
}

std::optional<double> sag_m(double weight_N_per_m, double span_m, double tension_N) {
    if (!within(weight_N_per_m, 1e-3, 1000.0) || !within(span_m, 0.1, 5000.0) ||
        !within(tension_N, 1.0, 1e7)) {
        return std::nullopt;
    }
    return weight_N_per_m * span_m * span_m / (8.0 * tension_N);
}

std::optional<Swing> swing(double sag_m, double angle_deg) {
    if (!within(sag_m, 0.0, 200.0) || !within(angle_deg, 0.0, 90.0)) {
        return std::nullopt;
    }
    const double angle = angle_deg * std::numbers::pi / 180.0;
    return Swing{sag_m * std::sin(angle), sag_m * (1.0 - std::cos(angle))};
}

Outcome clearance(const ClearanceReadings& readings, const model::LimitSet& distances) {
    constexpr std::string_view kSubject = "vegetation.clearance";
    if (auto no = impossible(readings, distances, kSubject)) {
        return *no;
    }
    const auto least = least_distance(distances, place_of(readings));
    if (!least) {
        return no_band(kSubject, readings.voltage_kV, distances);
    }
    return judge_distance(std::string(kSubject), readings, *least);
}

Outcome next_trim(const TrimReadings& readings, const model::LimitSet& distances,
                  const model::LimitSet& growth) {
    constexpr std::string_view kSubject = "vegetation.trim";
    const ClearanceReadings& now = readings.now;
    if (auto no = impossible(now, distances, kSubject)) {
        return *no;
    }
    if (!within(readings.months_to_next_visit, 0.0, 240.0) ||
        !within(readings.months_between_visits, 0.0, 240.0)) {
        return refuse(kSubject, say("no.vegetation.months"));
    }
    const auto least = least_distance(distances, place_of(now));
    if (!least) {
        return no_band(kSubject, now.voltage_kV, distances);
    }
    Needs needs(growth);
    const model::LimitTable* table = needs.table("growth");
    const double longest = needs.take("cycle.longest", Unit::Month);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const model::LimitRow* row = row_of(*table, readings.growth_class);
    const auto rate = row != nullptr ? cell(*table, *row, "rate", Unit::MetrePerYear) : std::nullopt;
    if (!rate) {
        return refuse(kSubject, say("no.vegetation.growth_class", {{"class", readings.growth_class}}));
    }

    Verdict v = judge_distance(std::string(kSubject), now, *least);
    v.workings.push_back({"work.vegetation.growth", {*rate, Unit::MetrePerYear}, growth.title});
    if (*rate <= 0.0) {
        return v;
    }
    const auto cycle =
        trim_cycle(now.clearance_m, least->m, now.allowance_m, *rate, static_cast<int>(longest));
    if (!cycle) {
        return refuse(kSubject, say("no.vegetation.growth_class", {{"class", readings.growth_class}}));
    }
    const double both_visits = readings.months_to_next_visit + readings.months_between_visits;
    const double cut_to_m = least->m + now.allowance_m + *rate * both_visits / kMonthsPerYear;
    const Quantity months{static_cast<double>(cycle->months), Unit::Month};
    v.workings.push_back(
        {"work.vegetation.months", months,
         "12 × (" + model::number_for_people(now.clearance_m) + " - " + model::number_for_people(least->m) +
             " - " + model::number_for_people(now.allowance_m) + ") / " + model::number_for_people(*rate)});
    v.workings.push_back(
        {"work.vegetation.cut_to",
         {cut_to_m, Unit::Metre},
         model::number_for_people(least->m) + " + " + model::number_for_people(now.allowance_m) + " + " +
             model::number_for_people(*rate) + " × " + model::number_for_people(both_visits) + " / 12"});
    v.workings.push_back(
        {"work.vegetation.cut", {std::max(0.0, cut_to_m - now.clearance_m), Unit::Metre}, ""});
    const Places places = {{"months", months}, {"cut_to", Quantity{cut_to_m, Unit::Metre}}};
    if (v.grade == Grade::Sound && cycle->months < readings.months_to_next_visit) {
        v.grade = Grade::Repair;
        v.when = When::Within30Days;
        v.because = say("because.vegetation.due_before_next", places);
    } else if (v.grade == Grade::Sound && cycle->months < both_visits) {
        v.grade = Grade::Watch;
        v.when = When::AtNextVisit;
        v.because = say("because.vegetation.due_before_after", places);
    } else if (v.grade == Grade::Sound) {
        v.because = say("because.vegetation.lasts", places);
    }
    if (v.grade != Grade::Sound) {
        v.action = say("action.vegetation.cut_to", places);
        v.cautions = {say("caution.vegetation.dead_line"), say("caution.vegetation.fire")};
        if (readings.growth_class == "very_fast") {
            v.cautions.push_back(say("caution.vegetation.remove"));
        }
    }
    return v;
}

Outcome clear_circle(double distance_m, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "vegetation.structure";
    if (!within(distance_m, 0.0, 100.0)) {
        return refuse(kSubject, say("no.vegetation.distance"));
    }
    Needs needs(set);
    const double least_m = needs.take("circle.least", Unit::Metre);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    Verdict v;
    v.subject = kSubject;
    v.source = set.source_of("circle.least");
    v.workings = {{"work.vegetation.measured", {distance_m, Unit::Metre}, ""},
                  {"work.vegetation.circle", {least_m, Unit::Metre}, ""}};
    const Places places = {{"distance", Quantity{distance_m, Unit::Metre}},
                           {"least", Quantity{least_m, Unit::Metre}}};
    v.because = say("because.vegetation.circle_clear", places);
    if (distance_m < least_m) {
        grade_as(v, Grade::Repair, When::Within30Days, say("because.vegetation.circle_grown", places),
                 say("action.vegetation.clear_circle", places));
        v.cautions = {say("caution.vegetation.fire")};
    }
    return v;
}

Outcome fall_in(const FallInReadings& readings, double voltage_kV, const model::LimitSet& distances) {
    constexpr std::string_view kSubject = "vegetation.fall_in";
    if (!within(readings.height_m, 0.1, 120.0) || !within(readings.distance_m, 0.0, 200.0) ||
        !within(readings.conductor_height_m, 0.0, 60.0)) {
        return refuse(kSubject, say("no.vegetation.distance"));
    }
    if (!within(voltage_kV, 0.0, 400.0) || voltage_kV <= 0.0) {
        return refuse(kSubject, say("no.voltage"));
    }
    const auto least = least_distance(distances, {voltage_kV, false, false, {}, {}});
    if (!least) {
        return no_band(kSubject, voltage_kV, distances);
    }
    const double reach_m = std::hypot(readings.distance_m, readings.conductor_height_m) - least->m;
    Verdict v;
    v.subject = kSubject;
    v.source = least->source;
    v.workings = {{"work.vegetation.tree_height", {readings.height_m, Unit::Metre}, ""},
                  {"work.vegetation.reach", {reach_m, Unit::Metre}, ""}};
    const Places places = {{"height", Quantity{readings.height_m, Unit::Metre}},
                           {"reach", Quantity{reach_m, Unit::Metre}}};
    if (readings.height_m < reach_m) {
        v.because = say("because.vegetation.falls_short", places);
        return v;
    }
    grade_as(
        v, readings.defect ? Grade::Repair : Grade::Watch,
        readings.defect ? When::Within7Days : When::AtNextVisit,
        say(readings.defect ? "because.vegetation.falls_in_defect" : "because.vegetation.falls_in", places),
        say(readings.defect ? "action.vegetation.fell" : "action.vegetation.watch_tree"));
    v.cautions = {say("caution.vegetation.dead_line"), say("caution.vegetation.felling")};
    return v;
}

} // namespace crossarm::rules
