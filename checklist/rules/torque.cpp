#include "checklist/rules/torque.hpp"

#include "checklist/rules/answer.hpp"

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

std::optional<double> bolt_torque_Nm(double k, double diameter_mm, double proof_MPa, double area_mm2) {
    // Tension of three quarters of proof load, the usual share for joints that are opened again.
    constexpr double kShareOfProof = 0.75;
    if (!within(k, 0.05, 0.5) || !within(diameter_mm, 3.0, 64.0) || !within(proof_MPa, 100.0, 1200.0) ||
        !within(area_mm2, 1.0, 3000.0)) {
        return std::nullopt;
    }
    const double force_N = kShareOfProof * proof_MPa * area_mm2;
    return k * diameter_mm / 1000.0 * force_N;
}

Outcome torque(const TorqueReadings& readings, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "joint.torque";
    if (!within(readings.applied_Nm, 0.1, 2000.0)) {
        return refuse(kSubject, say("no.torque.applied"));
    }
    Needs needs(set);
    const model::LimitTable* table = needs.table("torque");
    const double low_percent = needs.take("tolerance.low", Unit::Percent);
    const double high_percent = needs.take("tolerance.high", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const std::string key = readings.size + "/" + readings.strength;
    const model::LimitRow* row = row_of(*table, key);
    const auto wanted =
        row != nullptr ? cell(*table, *row, readings.lubricated ? "lubricated" : "dry", Unit::NewtonMetre)
                       : std::nullopt;
    // A set may leave one thread state of a row open with 0.
    if (!wanted || *wanted <= 0.0) {
        return refuse(kSubject, say(readings.lubricated ? "no.torque.row_lubricated" : "no.torque.row_dry",
                                    {{"bolt", key}, {"set", set.title}}));
    }
    model::Verdict v;
    v.subject = kSubject;
    v.source = source_of(set, *table, *row);
    const double share_percent = 100.0 * readings.applied_Nm / *wanted;
    v.workings = {{"work.torque.wanted", {*wanted, Unit::NewtonMetre}, key},
                  {"work.torque.applied", {readings.applied_Nm, Unit::NewtonMetre}, ""},
                  {"work.torque.share", {share_percent, Unit::Percent}, ""}};
    const Places places = {{"applied", Quantity{readings.applied_Nm, Unit::NewtonMetre}},
                           {"wanted", Quantity{*wanted, Unit::NewtonMetre}},
                           {"bolt", key}};
    if (share_percent < 100.0 - low_percent) {
        grade_as(v, Grade::Repair, model::When::BeforeSupplyReturns, say("because.torque.low", places),
                 say("action.torque.tighten", places));
    } else if (share_percent > 100.0 + high_percent) {
        grade_as(v, Grade::Repair, model::When::BeforeSupplyReturns, say("because.torque.high", places),
                 say("action.torque.renew", places));
    } else {
        v.because = say("because.torque.right", places);
    }
    v.cautions.push_back(say("caution.torque.maker"));
    return v;
}

} // namespace crossarm::rules
