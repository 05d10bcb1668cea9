// Insulation resistance.
#include "checklist/rules/insulation.hpp"

#include "checklist/rules/grading.hpp"

#include <cmath>
#include <string>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

namespace {

constexpr double kMostMOhm = 1e7;

bool possible(const InsulationReadings& r) {
    for (const auto* reading : {&r.at_15s_MOhm, &r.at_30s_MOhm, &r.at_600s_MOhm}) {
        if (*reading && !within(**reading, 0.0, kMostMOhm)) {
            return false;
        }
    }
    return within(r.winding_kV, 0.2, 36.0) && within(r.oil_C, -10.0, 75.0) &&
           within(r.at_60s_MOhm, 0.0, kMostMOhm);
}

/// On a straight line of the logarithm between two points.
double between(double x, double x0, double y0, double x1, double y1) {
    return y0 * std::pow(y1 / y0, (x - x0) / (x1 - x0));
}

std::optional<Minimum> at_temperature(const InsulationReadings& r, const model::LimitSet& set,
                                      const model::LimitTable& table) {
    const auto* row = row_up_to(table, r.winding_kV, Unit::Kilovolt);
    if (row == nullptr) {
        return std::nullopt;
    }
    double low_C = 30.0;
    auto low = cell(table, *row, "at_30", Unit::Megohm);
    for (const auto& [high_C, column] : {std::pair(40.0, "at_40"), {50.0, "at_50"}, {60.0, "at_60"}}) {
        const auto high = cell(table, *row, column, Unit::Megohm);
        if (!low || !high || *low <= 0.0 || *high <= 0.0) {
            return std::nullopt;
        }
        if (within(r.oil_C, low_C, high_C)) {
            return Minimum{between(r.oil_C, low_C, *low, high_C, *high), false, source_of(set, table, *row)};
        }
        low_C = high_C;
        low = high;
    }
    return std::nullopt;
}

} // namespace

std::optional<double> factor_to_20_C(double oil_C, const model::LimitSet& correction) {
    const auto* table = correction.table("to_20");
    if (table == nullptr || !std::isfinite(oil_C)) {
        return std::nullopt;
    }
    std::optional<double> last_C;
    double last = 0.0;
    for (const auto& row : table->rows) {
        const auto at_C = cell(*table, row, "at", Unit::Celsius);
        const auto factor = cell(*table, row, "factor", Unit::One);
        if (!at_C || !factor || *factor <= 0.0 || (last_C && *at_C <= *last_C)) {
            return std::nullopt;
        }
        if (oil_C == *at_C) {
            return factor;
        }
        if (oil_C < *at_C) {
            return last_C ? std::optional(between(oil_C, *last_C, last, *at_C, *factor)) : std::nullopt;
        }
        last_C = at_C;
        last = *factor;
    }
    return std::nullopt;
}

std::optional<Minimum> minimum_for(const InsulationReadings& r, const model::LimitSet& set) {
    if (!possible(r)) {
        return std::nullopt;
    }
    if (const auto* table = set.table("minimum")) {
        const auto* row = row_up_to(*table, r.winding_kV, Unit::Kilovolt);
        const auto least = row == nullptr ? std::nullopt : cell(*table, *row, "least", Unit::Megohm);
        return least ? std::optional(Minimum{*least, true, source_of(set, *table, *row)}) : std::nullopt;
    }
    if (const auto* table = set.table("minimum_at")) {
        return at_temperature(r, set, *table);
    }
    if (const auto factor = set.value("per_root_kVA", Unit::One)) {
        if (!within(r.rating_kVA, 5.0, 5000.0)) {
            return std::nullopt;
        }
        return Minimum{*factor * r.winding_kV * 1000.0 / std::sqrt(r.rating_kVA), true,
                       set.source_of("per_root_kVA")};
    }
    const auto per_kV = set.value("per_kV", Unit::Megohm);
    const auto plus = set.value("plus", Unit::Megohm);
    if (!per_kV || !plus) {
        return std::nullopt;
    }
    return Minimum{*per_kV * r.winding_kV + *plus, true, set.source_of("per_kV")};
}

Outcome insulation(const InsulationReadings& r, const InsulationLimits& limits) {
    constexpr const char* kSubject = "insulation.resistance";
    if (!possible(r)) {
        return no_verdict(kSubject, "insulation.impossible");
    }
    const auto factor = factor_to_20_C(r.oil_C, limits.correction);
    const auto minimum = minimum_for(r, limits.minimum);
    const auto floor = minimum_for(r, limits.floor);
    if (!factor || !minimum || !floor) {
        return no_verdict(kSubject, "insulation.no_limit",
                          {{"set", limits.minimum.title}, {"oil", Quantity{r.oil_C, Unit::Celsius}}});
    }
    const double at_20_MOhm = r.at_60s_MOhm * *factor;
    const auto below = [&](const Minimum& least) {
        return (least.at_20_C ? at_20_MOhm : r.at_60s_MOhm) < least.least_MOhm;
    };
    const bool below_floor = below(*floor);
    const bool below_minimum = below(*minimum);
    const Minimum& by = below_floor ? *floor : *minimum;

    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.grade = below_floor ? Grade::Danger : below_minimum ? Grade::Repair : Grade::Sound;
    verdict.when = usual_when(verdict.grade);
    verdict.source = by.source;
    verdict.because = {below_floor     ? "insulation.below_floor"
                       : below_minimum ? "insulation.below_minimum"
                                       : "insulation.sound",
                       {{"value", Quantity{by.at_20_C ? at_20_MOhm : r.at_60s_MOhm, Unit::Megohm}},
                        {"at", Quantity{by.at_20_C ? 20.0 : r.oil_C, Unit::Celsius}},
                        {"limit", Quantity{by.least_MOhm, Unit::Megohm}},
                        {"set", by.source.title}}};
    verdict.workings = {
        {"work.insulation.at_60s", {r.at_60s_MOhm, Unit::Megohm}, ""},
        {"work.insulation.factor", {*factor, Unit::One}, limits.correction.title},
        {"work.insulation.at_20",
         {at_20_MOhm, Unit::Megohm},
         model::number_for_people(r.at_60s_MOhm) + " × " + model::number_for_people(*factor, 3)},
        {"work.insulation.minimum", {minimum->least_MOhm, Unit::Megohm}, limits.minimum.title},
        {"work.insulation.floor", {floor->least_MOhm, Unit::Megohm}, limits.floor.title},
    };
    if (verdict.grade != Grade::Sound) {
        verdict.action = {below_floor ? "insulation.action.off" : "insulation.action.dry", {}};
    }
    verdict.cautions = {{"insulation.caution.discharge", {}}, {"insulation.caution.trend", {}}};
    return verdict;
}

Outcome absorption(const InsulationReadings& r, const model::LimitSet& set) {
    constexpr const char* kSubject = "insulation.absorption";
    if (!possible(r)) {
        return no_verdict(kSubject, "insulation.impossible");
    }
    const auto meaningless = set.value("meaningless.above", Unit::Megohm);
    if (meaningless && r.at_60s_MOhm > *meaningless) {
        return no_verdict(kSubject, "insulation.too_good",
                          {{"value", Quantity{r.at_60s_MOhm, Unit::Megohm}},
                           {"limit", Quantity{*meaningless, Unit::Megohm}}});
    }
    struct Made {
        const char* name;
        const char* working;
        std::optional<double> late, early;
    };
    const Made ratios[] = {{"index", "work.insulation.index", r.at_600s_MOhm, r.at_60s_MOhm},
                           {"ratio", "work.insulation.ratio", r.at_60s_MOhm, r.at_30s_MOhm},
                           {"ratio_15", "work.insulation.ratio_15", r.at_60s_MOhm, r.at_15s_MOhm}};
    model::Verdict verdict;
    std::optional<Graded> worst;
    double worst_value = 0.0;
    for (const Made& made : ratios) {
        if (!made.late || !made.early || *made.early <= 0.0) {
            continue;
        }
        const double value = *made.late / *made.early;
        const auto graded = grade_low_is_bad(set, made.name, value, Unit::One);
        if (!graded) {
            continue;
        }
        verdict.workings.push_back(
            {made.working,
             {value, Unit::One},
             model::number_for_people(*made.late) + " / " + model::number_for_people(*made.early)});
        if (!worst || graded->grade > worst->grade) {
            worst = graded;
            worst_value = value;
        }
    }
    if (!worst) {
        return no_verdict(kSubject, "insulation.no_ratio");
    }
    verdict.subject = kSubject;
    verdict.grade = worst->grade;
    verdict.when = usual_when(worst->grade);
    verdict.source = source_of(set, *worst->by);
    verdict.because = {worst->grade == Grade::Sound ? "insulation.absorption.sound"
                                                    : "insulation.absorption.low",
                       {{"value", Quantity{worst_value, Unit::One}}, {"limit", worst->by->value}}};
    if (worst->grade != Grade::Sound) {
        verdict.action = {"insulation.action.dry", {}};
    }
    verdict.cautions = {{"insulation.caution.index_of_oil", {}}};
    return verdict;
}

} // namespace crossarm::rules
