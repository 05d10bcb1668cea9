// The utility's rules out of its limit set, and who may do what on the day.
#include "checklist/visit/permit.hpp"

#include "checklist/rules/temporary_earth.hpp"

#include <algorithm>
#include <cmath>

namespace crossarm::visit::permit {

namespace {

using model::Unit;

constexpr double kMostHours = 24.0;        // a permit is renewed daily at least
constexpr double kMostProofMinutes = 60.0; // an older proof proves nothing
constexpr double kMostMm2 = 1000.0;        // no hand lifts a thicker earth

std::optional<double> within(std::optional<double> value, double most) {
    return value && std::isfinite(*value) && *value > 0.0 && *value <= most ? value : std::nullopt;
}

bool yes_or(const model::LimitSet& set, const char* name, bool otherwise) {
    const auto value = set.value(name, Unit::One);
    return value && (*value == 0.0 || *value == 1.0) ? *value == 1.0 : otherwise;
}

/// Size for the fault level and clearing time that the utility gave, by the chosen set of earth sizes; its
/// plain least size where it gave none.
double least_mm2(const model::LimitSet& rules, const model::LimitSet* sizes, const std::string& side) {
    const double given =
        within(rules.value("earth_least." + side, Unit::SquareMillimetre), kMostMm2).value_or(0.0);
    if (sizes == nullptr) {
        return given;
    }
    const double least = within(sizes->value("area.least", Unit::SquareMillimetre), kMostMm2).value_or(0.0);
    double needed = 0.0;
    const auto fault_kA = rules.value("fault." + side, Unit::KiloAmpere);
    const auto clearing_s = rules.value("clearing." + side, Unit::Second);
    if (fault_kA && clearing_s) {
        const auto outcome = rules::temporary_earth({*fault_kA, *clearing_s, std::nullopt}, *sizes);
        if (const auto* verdict = std::get_if<model::Verdict>(&outcome)) {
            for (const auto& step : verdict->workings) {
                if (step.name == "work.temporary.size") {
                    needed = 0.99 * step.value.value; // sizes are rounded on the label
                }
            }
        } else {
            needed = kMostMm2; // none of the sizes holds it
        }
    }
    return std::max({given, least, needed});
}

} // namespace

Rules rules_from(const model::LimitLibrary& limits, const model::Structure& /*structure*/) {
    Rules rules;
    const model::LimitSet* set = limits.for_subject("permit.rules");
    const model::LimitSet* sizes = limits.for_subject("earth.temporary");
    const model::LimitSet nothing;
    const model::LimitSet& from = set != nullptr ? *set : nothing;
    rules.set = from.id;
    rules.control_earths_off_after_cancelling =
        yes_or(from, "control_earths.off_after_cancelling", rules.control_earths_off_after_cancelling);
    rules.earth_lv_too = yes_or(from, "earth.lv_too", rules.earth_lv_too);
    rules.most_hours = within(from.value("hours.most", Unit::Hour), kMostHours).value_or(rules.most_hours);
    rules.proof_minutes =
        within(from.value("proof.most", Unit::Minute), kMostProofMinutes).value_or(rules.proof_minutes);
    rules.least_mm2_hv = least_mm2(from, sizes, "hv");
    rules.least_mm2_lv = least_mm2(from, sizes, "lv");
    return rules;
}

Powers powers_on(const model::Register& reg, model::Date day) {
    Powers powers;
    for (const model::Person& person : reg.people) {
        powers.known.insert(person.id);
        if (person.may("issue_permit", day)) {
            powers.may_issue.insert(person.id);
        }
        if (person.may("accept_permit", day)) {
            powers.may_accept.insert(person.id);
        }
        if (person.is("lead")) {
            powers.leads.insert(person.id);
        }
    }
    return powers;
}

} // namespace crossarm::visit::permit
