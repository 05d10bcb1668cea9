#include "checklist/rules/approach.hpp"

#include "checklist/rules/answer.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::rules {
namespace {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;

bool possible(const ApproachReadings& r) {
    return within(r.altitude_m, -500.0, 6000.0) && (!r.distance_m || within(*r.distance_m, 0.0, 100.0));
}

/// Up to the next centimetre; what is exact to the last bits stays.
double rounded_up_m(double x) {
    return std::ceil(x * 100.0 - 1e-6) / 100.0;
}

Verdict judge(std::string_view subject, const ApproachReadings& r, double least_m, model::Source source) {
    Verdict v;
    v.subject = subject;
    v.source = std::move(source);
    v.workings.push_back({"work.approach.least", {least_m, Unit::Metre}, ""});
    Places places = {{"least", Quantity{least_m, Unit::Metre}},
                     {"voltage", Quantity{r.voltage_kV, Unit::Kilovolt}}};
    v.because = say("because.approach.keep", places);
    if (r.distance_m) {
        places.emplace_back("distance", Quantity{*r.distance_m, Unit::Metre});
        v.because = say("because.approach.kept", places);
        if (*r.distance_m < least_m) {
            grade_as(v, Grade::Danger, model::When::BeforeSupplyReturns,
                     say("because.approach.too_near", places), say("action.approach.back", places));
        }
    }
    v.cautions = {say("caution.approach.local"), say("caution.approach.reach")};
    return v;
}

} // namespace

std::optional<double> altitude_factor(double altitude_m, const model::LimitSet& set) {
    const model::LimitTable* table = set.table("altitude");
    if (table == nullptr || !within(altitude_m, -500.0, 6000.0)) {
        return std::nullopt;
    }
    const model::LimitRow* row = row_up_to(*table, altitude_m, Unit::Metre);
    return row != nullptr ? cell(*table, *row, "factor", Unit::One) : std::nullopt;
}

Outcome approach(const ApproachReadings& r, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "approach.qualified";
    if (!possible(r)) {
        return refuse(kSubject, say("no.approach.reading"));
    }
    if (!within(r.voltage_kV, 0.05, 1000.0)) {
        return refuse(kSubject, say("no.voltage"));
    }
    Needs needs(set);
    const model::LimitTable* table = needs.table("distance");
    const double avoid_kV = needs.take("avoid_contact.up_to", Unit::Kilovolt);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    if (r.voltage_kV <= avoid_kV) {
        Verdict v = judge(kSubject, r, 0.0, set.source_of("avoid_contact.up_to"));
        v.because = say("because.approach.avoid_contact");
        return v;
    }
    const auto factor = altitude_factor(r.altitude_m, set);
    if (!factor) {
        return refuse(kSubject,
                      say("no.approach.altitude", {{"altitude", Quantity{r.altitude_m, Unit::Metre}}}));
    }
    for (const model::LimitRow& row : table->rows) {
        const auto up_to = cell(*table, row, "up_to", Unit::Kilovolt);
        const auto base = cell(*table, row, r.between_phases ? "phase_phase" : "phase_earth", Unit::Metre);
        if (up_to && base && r.voltage_kV <= *up_to) {
            Verdict v = judge(kSubject, r, rounded_up_m(*base * *factor), source_of(set, *table, row));
            v.workings.insert(v.workings.begin(), {"work.approach.table", {*base, Unit::Metre}, row.key});
            v.workings.insert(v.workings.begin() + 1, {"work.approach.factor", {*factor, Unit::One}, ""});
            return v;
        }
    }
    return refuse(kSubject, say("no.voltage_not_in_set",
                                {{"voltage", Quantity{r.voltage_kV, Unit::Kilovolt}}, {"set", set.title}}));
}

Outcome approach_unqualified(const ApproachReadings& r, const model::LimitSet& set) {
    constexpr std::string_view kSubject = "approach.unqualified";
    if (!possible(r)) {
        return refuse(kSubject, say("no.approach.reading"));
    }
    if (!within(r.voltage_kV, 0.05, 1000.0)) {
        return refuse(kSubject, say("no.voltage"));
    }
    Needs needs(set);
    const double base_m = needs.take("base.distance", Unit::Metre);
    const double base_kV = needs.take("base.up_to", Unit::Kilovolt);
    const double step_m = needs.take("step.distance", Unit::Metre);
    const double step_kV = needs.take("step.voltage", Unit::Kilovolt);
    if (!needs.ok() || step_kV <= 0.0) {
        return needs.refusal(kSubject);
    }
    const double steps = std::max(0.0, std::ceil((r.voltage_kV - base_kV) / step_kV - 1e-9));
    return judge(kSubject, r, rounded_up_m(base_m + steps * step_m), set.source_of("base.distance"));
}

} // namespace crossarm::rules
