// Joints against what they were when new, and against the highest temperature their surface allows.
#include "checklist/rules/answer.hpp"
#include "checklist/rules/joints.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;
using model::When;

Outcome resistance_since_new(double now_uOhm, double new_uOhm, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "joint.resistance_change";
    if (!within(now_uOhm, 1e-3, 1e6) || !within(new_uOhm, 1e-3, 1e6)) {
        return refuse(kSubject, say("no.joints.resistance"));
    }
    Needs needs(limits);
    const double watch = needs.take("change.watch_above", Unit::Percent);
    const double repair = needs.take("change.repair_above", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const double change_percent = 100.0 * (now_uOhm / new_uOhm - 1.0);
    Verdict v;
    v.subject = kSubject;
    v.source = limits.source_of(change_percent > repair ? "change.repair_above" : "change.watch_above");
    v.workings = {{"work.joints.change",
                   {change_percent, Unit::Percent},
                   "100 × (" + model::number_for_people(now_uOhm) + " / " +
                       model::number_for_people(new_uOhm) + " - 1)"}};
    const Places places = {{"change", Quantity{change_percent, Unit::Percent}},
                           {"watch", Quantity{watch, Unit::Percent}}};
    v.because = say("because.joints.as_new", places);
    if (change_percent > watch) {
        const bool much = change_percent > repair;
        grade_as(v, much ? Grade::Repair : Grade::Watch, much ? When::Within30Days : When::AtNextVisit,
                 say("because.joints.risen", places),
                 say(much ? "action.joints.remake" : "action.joints.compare"));
    }
    return v;
}

Outcome hottest_allowed(const JointReadings& r, Plating plating, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "joint.temperature";
    if (!within(r.joint_C, -40.0, 400.0) || !within(r.ambient_C, -40.0, 60.0)) {
        return refuse(kSubject, say("no.joints.temperature"));
    }
    if (!within(r.current_A, 0.0, 10'000.0) || !within(r.rated_A, 0.1, 10'000.0)) {
        return refuse(kSubject, say("no.joints.current"));
    }
    const char* const name = plating == Plating::Silver ? "silver" : plating == Plating::Tin ? "tin" : "bare";
    Needs needs(limits);
    const double most_C = needs.take(name, Unit::Celsius);
    const double margin_K = needs.take("margin", Unit::Kelvin);
    const double exponent = needs.take("load.exponent", Unit::One);
    const double minimum_percent = needs.take("load.minimum_share", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const double share_percent = 100.0 * r.current_A / r.rated_A;
    const double rise_K = std::max(0.0, r.joint_C - r.ambient_C);
    const bool enough_load = share_percent >= minimum_percent;
    if (!enough_load && r.joint_C <= most_C) {
        return refuse(kSubject,
                      say("no.joints.low_load", {{"share", Quantity{share_percent, Unit::Percent}},
                                                 {"minimum", Quantity{minimum_percent, Unit::Percent}}}));
    }
    const double factor =
        enough_load && r.current_A < r.rated_A ? std::pow(r.rated_A / r.current_A, exponent) : 1.0;
    const double at_rated_C = std::max(r.joint_C, r.ambient_C + rise_K * factor);
    Verdict v;
    v.subject = kSubject;
    v.source = limits.source_of(name);
    v.workings = {{"work.joints.at_rated", {at_rated_C, Unit::Celsius}, ""},
                  {"work.joints.most", {most_C, Unit::Celsius}, name}};
    const Places places = {{"temperature", Quantity{at_rated_C, Unit::Celsius}},
                           {"most", Quantity{most_C, Unit::Celsius}}};
    v.because = say("because.joints.below_most", places);
    if (at_rated_C > most_C) {
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns, say("because.joints.above_most", places),
                 say("action.joints.remake_now"));
        v.cautions.push_back(say("caution.joints.retorque"));
    } else if (at_rated_C > most_C - margin_K) {
        grade_as(v, Grade::Watch, When::AtNextVisit, say("because.joints.near_most", places),
                 say("action.joints.compare"));
    }
    v.cautions.push_back(say("caution.joints.shiny"));
    return v;
}

} // namespace crossarm::rules
