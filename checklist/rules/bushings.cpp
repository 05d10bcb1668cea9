// Damage of a bushing.
#include "checklist/rules/bushings.hpp"

#include "checklist/rules/grading.hpp"

#include <cmath>

namespace crossarm::rules {

using model::Grade;
using model::Unit;

namespace {

std::optional<Grade> grade_from(std::optional<double> number) {
    for (const Grade grade : {Grade::Sound, Grade::Watch, Grade::Repair, Grade::Danger}) {
        if (number && *number == static_cast<double>(static_cast<int>(grade))) {
            return grade;
        }
    }
    return std::nullopt;
}

/// False when `days` is none of the words of the table.
bool when_from(std::optional<double> days, std::optional<model::When>& when) {
    if (!days) {
        return false;
    }
    if (*days == -1.0) {
        when.reset();
    } else if (*days == 0.0) {
        when = model::When::BeforeSupplyReturns;
    } else if (*days == 7.0) {
        when = model::When::Within7Days;
    } else if (*days == 30.0) {
        when = model::When::Within30Days;
    } else if (*days == 365.0) {
        when = model::When::AtNextVisit;
    } else {
        return false;
    }
    return true;
}

} // namespace

Outcome damage(const DamageReadings& readings, const model::LimitSet& limits) {
    constexpr const char* kSubject = "bushings.damage";
    const auto* table = limits.table("damage");
    if (table == nullptr) {
        return no_verdict(kSubject, "bushings.no_limit", {{"set", limits.title}});
    }
    const auto* row = row_of(*table, readings.seen);
    if (row == nullptr) {
        return no_verdict(kSubject, "bushings.unknown_damage", {{"seen", readings.seen}});
    }
    const auto grade = grade_from(cell(*table, *row, "grade", Unit::One));
    std::optional<model::When> when;
    if (!grade || !when_from(cell(*table, *row, "days", Unit::Day), when) ||
        (*grade != Grade::Sound && !when)) {
        return no_verdict(kSubject, "bushings.no_limit", {{"set", limits.title}});
    }
    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.grade = *grade;
    verdict.when = when;
    verdict.because = {"bushings.because." + readings.seen, {}};
    verdict.source = source_of(limits, *table, *row);
    if (*grade != Grade::Sound) {
        verdict.action = {"bushings.action." + readings.seen, {}};
        verdict.cautions.push_back({"bushings.caution.edges", {}});
    }
    if (*grade == Grade::Danger) {
        verdict.cautions.push_back({"bushings.caution.treat_as_live", {}});
    } else if (readings.seen == "hairline") {
        verdict.cautions.push_back({"bushings.caution.end_not_seen", {}});
    }
    return verdict;
}

std::optional<double> creepage_mm(double highest_kV, const std::string& pollution,
                                  const model::LimitSet& creepage) {
    const auto* table = creepage.table("creepage");
    const auto* row = table == nullptr ? nullptr : row_of(*table, pollution);
    const auto per_kV = row == nullptr ? std::nullopt : cell(*table, *row, "per_kV", Unit::Millimetre);
    if (!per_kV || !within(highest_kV, 0.4, 52.0)) {
        return std::nullopt;
    }
    return *per_kV * highest_kV / std::sqrt(3.0);
}

} // namespace crossarm::rules
