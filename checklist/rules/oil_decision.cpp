// One decision about the oil.
#include "checklist/rules/oil_decision.hpp"

#include "checklist/rules/answer.hpp"
#include "checklist/rules/grading.hpp"

#include <array>
#include <cmath>
#include <string>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

namespace {

constexpr const char* kSubject = "oil.decision";

using Test = std::optional<model::Verdict>;

bool at_least(const Test& test, Grade grade) {
    return test && test->grade >= grade;
}

std::array<const Test*, 7> tests_of(const OilFindings& f) {
    return {&f.breakdown, &f.water, &f.acidity, &f.loss_factor, &f.tension, &f.look, &f.gases};
}

} // namespace

std::string_view name(OilDecision decision) {
    constexpr std::array<std::string_view, 6> kNames = {"keep",    "retest",  "dry_by_filtering",
                                                        "reclaim", "replace", "off_line"};
    return kNames.at(static_cast<std::size_t>(decision));
}

OilDecision decide(const OilFindings& f, const model::LimitSet& practice) {
    if (at_least(f.gases, Grade::Danger) || at_least(f.look, Grade::Danger)) {
        return OilDecision::OffLine;
    }
    if (at_least(f.acidity, Grade::Repair) || at_least(f.loss_factor, Grade::Repair) ||
        at_least(f.tension, Grade::Repair)) {
        const auto reclaim_from = practice.value("reclaim.from", Unit::Litre);
        const bool large = reclaim_from && f.oil_litres && *f.oil_litres >= *reclaim_from;
        return large ? OilDecision::Reclaim : OilDecision::Replace;
    }
    if (at_least(f.water, Grade::Repair)) {
        return OilDecision::DryByFiltering;
    }
    if (f.breakdown && f.breakdown->action.key == "oil.breakdown.action.retest") {
        return OilDecision::Retest;
    }
    if (at_least(f.breakdown, Grade::Repair) || at_least(f.look, Grade::Repair)) {
        return OilDecision::DryByFiltering;
    }
    for (const Test* test : tests_of(f)) {
        if (at_least(*test, Grade::Watch)) {
            return OilDecision::Retest;
        }
    }
    return OilDecision::Keep;
}

Outcome oil_decision(const OilFindings& f, const model::LimitSet& practice) {
    Needs needs(practice);
    const double spare_percent = needs.take("order.spare", Unit::Percent);
    const double top_up_percent = needs.take("order.top_up", Unit::Percent);
    const double step_litres = needs.take("order.step", Unit::Litre);
    const double hot_above_C = needs.take("hot.above", Unit::Celsius);
    const double pcb_from = needs.take("pcb.from", Unit::MilligramPerKilogram);
    (void)needs.take("reclaim.from", Unit::Litre);
    if (!needs.ok() || !within(spare_percent, 0.0, 100.0) || !within(top_up_percent, 0.0, 100.0) ||
        !within(step_litres, 1.0, 1000.0)) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", practice.title}});
    }
    if ((f.oil_litres && !within(*f.oil_litres, 10.0, 20'000.0)) ||
        (f.oil_C && !within(*f.oil_C, -20.0, 110.0)) ||
        (f.pcb_mg_kg && !within(*f.pcb_mg_kg, 0.0, 1'000'000.0))) {
        return no_verdict(kSubject, "oil.decision.impossible");
    }
    int tested = 0;
    const model::Verdict* worst = nullptr;
    for (const Test* test : tests_of(f)) {
        if (*test) {
            ++tested;
            worst = worst == nullptr || (*test)->grade > worst->grade ? &**test : worst;
        }
    }
    if (worst == nullptr) {
        return no_verdict(kSubject, "oil.decision.nothing_tested");
    }

    const OilDecision decision = decide(f, practice);
    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.grade = worst->grade;
    verdict.when = usual_when(verdict.grade);
    verdict.source = worst->source;
    verdict.because = worst->because;
    if (decision != OilDecision::Keep) {
        verdict.action = {"oil.decision." + std::string(name(decision)), {}};
    }
    verdict.workings.push_back({"work.oil.tests", {static_cast<double>(tested), Unit::One}, ""});
    const bool replaces = decision == OilDecision::Replace;
    const bool treats = decision == OilDecision::DryByFiltering || decision == OilDecision::Reclaim;
    if (f.oil_litres && (replaces || treats)) {
        const double share = replaces ? 100.0 + spare_percent : top_up_percent;
        const double litres = std::ceil(share * *f.oil_litres / 100.0 / step_litres) * step_litres;
        verdict.workings.push_back({"work.oil.volume", {*f.oil_litres, Unit::Litre}, ""});
        verdict.workings.push_back({"work.oil.order",
                                    {litres, Unit::Litre},
                                    model::number_for_people(*f.oil_litres) + " × " +
                                        model::number_for_people(share) + " / 100, up to whole " +
                                        model::number_for_people(step_litres) + " L; " + practice.title});
    } else if (replaces || treats) {
        verdict.cautions.push_back({"oil.caution.volume_unknown", {}});
    }
    if (tested == 1 && decision != OilDecision::Keep) {
        verdict.cautions.push_back({"oil.caution.one_test", {}});
    }
    if (!f.pcb_mg_kg) {
        verdict.cautions.push_back({"oil.caution.pcb_unknown", {}});
    } else if (*f.pcb_mg_kg >= pcb_from) {
        verdict.cautions.push_back(
            {"oil.caution.pcb", {{"pcb", Quantity{*f.pcb_mg_kg, Unit::MilligramPerKilogram}}}});
    }
    if (f.oil_C && *f.oil_C > hot_above_C) {
        verdict.cautions.push_back({"oil.caution.hot", {{"oil", Quantity{*f.oil_C, Unit::Celsius}}}});
    }
    if (replaces || treats) {
        verdict.cautions.push_back({"oil.caution.disposal", {}});
        verdict.cautions.push_back({"oil.caution.work_dead", {}});
    }
    return verdict;
}

} // namespace crossarm::rules
