// Grading one reading against one limit set.
#include "checklist/rules/grading.hpp"

#include <array>
#include <cmath>

namespace crossarm::rules {

using model::Grade;

namespace {

struct Step {
    Grade grade;
    const char* at;     ///< the limit itself is crossed already
    const char* beyond; ///< crossed only beyond the limit
};

constexpr std::array<Step, 3> kLow = {{{Grade::Watch, ".watch_at_most", ".watch_below"},
                                       {Grade::Repair, ".repair_at_most", ".repair_below"},
                                       {Grade::Danger, ".danger_at_most", ".danger_below"}}};
constexpr std::array<Step, 3> kHigh = {{{Grade::Watch, ".watch_from", ".watch_above"},
                                        {Grade::Repair, ".repair_from", ".repair_above"},
                                        {Grade::Danger, ".danger_from", ".danger_above"}}};

/// `sign` is +1 where high is bad and -1 where low is bad.
std::optional<Graded> grade(const model::LimitSet& limits, std::string_view property, double value,
                            model::Unit unit, const std::array<Step, 3>& steps, double sign) {
    if (!std::isfinite(value)) {
        return std::nullopt;
    }
    std::optional<Graded> graded;
    for (const auto& step : steps) {
        for (const bool at : {true, false}) {
            const auto* limit = limits.find(std::string(property) + (at ? step.at : step.beyond));
            if (limit == nullptr || limit->value.unit != unit) {
                continue;
            }
            const double over = sign * (value - limit->value.value);
            if (over > 0.0 || (at && over == 0.0)) {
                graded = Graded{step.grade, limit};
            } else if (!graded) {
                graded = Graded{Grade::Sound, limit};
            }
        }
    }
    return graded;
}

} // namespace

std::optional<Graded> grade_low_is_bad(const model::LimitSet& limits, std::string_view property, double value,
                                       model::Unit unit) {
    return grade(limits, property, value, unit, kLow, -1.0);
}

std::optional<Graded> grade_high_is_bad(const model::LimitSet& limits, std::string_view property,
                                        double value, model::Unit unit) {
    return grade(limits, property, value, unit, kHigh, 1.0);
}

std::optional<model::Verdict> grade_by_sight(std::string_view subject, const model::LimitSet& set,
                                             std::string_view table_name, const std::string& seen) {
    const auto* table = set.table(table_name);
    const auto* row = table == nullptr ? nullptr : row_of(*table, seen);
    const auto grade = row == nullptr ? std::nullopt : cell(*table, *row, "grade", model::Unit::One);
    if (!grade || !within(*grade, 0.0, 3.0)) {
        return std::nullopt;
    }
    model::Verdict verdict;
    verdict.subject = subject;
    verdict.grade = static_cast<Grade>(static_cast<int>(*grade));
    verdict.when = usual_when(verdict.grade);
    verdict.because = say(std::string(subject) + "." + seen);
    verdict.source = source_of(set, *table, *row);
    return verdict;
}

std::optional<model::When> usual_when(Grade grade) {
    switch (grade) {
    case Grade::Sound:
        return std::nullopt;
    case Grade::Watch:
        return model::When::AtNextVisit;
    case Grade::Repair:
        return model::When::Within30Days;
    case Grade::Danger:
        return model::When::BeforeSupplyReturns;
    }
    return std::nullopt;
}

} // namespace crossarm::rules
