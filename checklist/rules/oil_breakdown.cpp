// Breakdown voltage of the oil.
#include "checklist/rules/oil_breakdown.hpp"

#include "checklist/rules/grading.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

namespace {

constexpr const char* kSubject = "oil.breakdown";

std::string sum_text(const std::vector<double>& shots_kV) {
    std::string text = "(";
    for (std::size_t i = 0; i < shots_kV.size(); ++i) {
        text += (i == 0 ? "" : " + ") + model::number_for_people(shots_kV[i]);
    }
    return text + ") / " + std::to_string(shots_kV.size());
}

const char* key_of(Grade grade, const char* sound, const char* watch, const char* repair) {
    return grade == Grade::Sound ? sound : grade == Grade::Watch ? watch : repair;
}

} // namespace

std::optional<ShotSet> work_out(const std::vector<double>& shots_kV) {
    if (shots_kV.size() < 2) {
        return std::nullopt;
    }
    ShotSet set;
    set.lowest_kV = shots_kV.front();
    for (const double shot : shots_kV) {
        if (!std::isfinite(shot) || shot <= 0.0) {
            return std::nullopt;
        }
        set.mean_kV += shot;
        set.lowest_kV = std::min(set.lowest_kV, shot);
    }
    const auto count = static_cast<double>(shots_kV.size());
    set.mean_kV /= count;
    double squares = 0.0;
    for (const double shot : shots_kV) {
        squares += (shot - set.mean_kV) * (shot - set.mean_kV);
    }
    set.deviation_kV = std::sqrt(squares / (count - 1.0));
    set.scatter = set.deviation_kV / set.mean_kV;
    if (!std::isfinite(set.scatter)) {
        return std::nullopt;
    }
    return set;
}

Outcome breakdown(const BreakdownReadings& readings, const model::LimitSet& limits,
                  const model::LimitSet& shots) {
    const auto number = shots.value("shots.number", Unit::One);
    const auto lowest = shots.value("shots.lowest", Unit::Kilovolt);
    const auto highest = shots.value("shots.highest", Unit::Kilovolt);
    if (!number || !lowest || !highest) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", shots.title}});
    }
    const auto count = static_cast<double>(readings.shots_kV.size());
    if (count != *number || count < 2.0) {
        return no_verdict(kSubject, "oil.breakdown.wrong_number",
                          {{"have", Quantity{count, Unit::One}}, {"need", Quantity{*number, Unit::One}}});
    }
    for (std::size_t i = 0; i < readings.shots_kV.size(); ++i) {
        if (!within(readings.shots_kV[i], *lowest, *highest)) {
            return no_verdict(kSubject, "oil.breakdown.impossible",
                              {{"shot", Quantity{static_cast<double>(i + 1), Unit::One}},
                               {"low", Quantity{*lowest, Unit::Kilovolt}},
                               {"high", Quantity{*highest, Unit::Kilovolt}}});
        }
    }
    if (readings.oil_C && !within(*readings.oil_C, -20.0, 110.0)) {
        return no_verdict(kSubject, "oil.temperature_impossible");
    }
    const auto set = work_out(readings.shots_kV);
    if (!set) {
        return no_verdict(kSubject, "oil.breakdown.impossible_set");
    }
    const auto graded = grade_low_is_bad(limits, "breakdown", set->mean_kV, Unit::Kilovolt);
    if (!graded) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", limits.title}});
    }

    const double percent = 100.0 * set->scatter;
    const auto scatter_limit = shots.value("shots.scatter_above", Unit::Percent);
    const bool scattered = scatter_limit && percent > *scatter_limit;

    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.grade = scattered ? model::worse(graded->grade, Grade::Watch) : graded->grade;
    verdict.workings = {
        {"work.oil.mean", {set->mean_kV, Unit::Kilovolt}, sum_text(readings.shots_kV)},
        {"work.oil.deviation",
         {set->deviation_kV, Unit::Kilovolt},
         "√(Σ(shot − mean)² / " + std::to_string(readings.shots_kV.size() - 1) + ")"},
        {"work.oil.scatter",
         {percent, Unit::Percent},
         "100 × " + model::number_for_people(set->deviation_kV) + " / " +
             model::number_for_people(set->mean_kV)},
        {"work.oil.lowest_shot", {set->lowest_kV, Unit::Kilovolt}, ""},
    };
    if (scatter_limit) {
        verdict.workings.push_back({"work.oil.scatter_limit", {*scatter_limit, Unit::Percent}, shots.title});
    }
    if (readings.oil_C) {
        verdict.workings.push_back({"work.oil.temperature", {*readings.oil_C, Unit::Celsius}, ""});
    }
    verdict.workings.push_back({"work.oil.limit", graded->by->value, limits.title});

    const Quantity mean{set->mean_kV, Unit::Kilovolt};
    if (scattered) {
        verdict.because = {"oil.breakdown.scattered",
                           {{"scatter", Quantity{percent, Unit::Percent}},
                            {"limit", Quantity{*scatter_limit, Unit::Percent}},
                            {"mean", mean}}};
        verdict.action = {"oil.breakdown.action.retest", {}};
        verdict.when = model::When::Within30Days;
        verdict.source = shots.source_of("shots.scatter_above");
        verdict.cautions.push_back({"oil.caution.tester", {}});
        return verdict;
    }
    verdict.because = {
        key_of(verdict.grade, "oil.breakdown.sound", "oil.breakdown.watch", "oil.breakdown.repair"),
        {{"mean", mean}, {"limit", graded->by->value}, {"set", limits.title}}};
    if (verdict.grade != Grade::Sound) {
        verdict.action = {
            verdict.grade == Grade::Watch ? "oil.breakdown.action.watch" : "oil.breakdown.action.repair", {}};
        verdict.cautions = {{"oil.caution.pcb_unknown", {}}, {"oil.caution.disposal", {}}};
    }
    verdict.when = usual_when(verdict.grade);
    verdict.source = source_of(limits, *graded->by);
    return verdict;
}

} // namespace crossarm::rules
