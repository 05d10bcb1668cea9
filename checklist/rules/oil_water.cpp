// Water in the oil.
#include "checklist/rules/oil_water.hpp"

#include "checklist/rules/grading.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

std::optional<double> factor_to_20(double oil_C, const model::LimitSet& correction) {
    Needs needs(correction);
    const double factor = needs.take("factor", Unit::One);
    const double exponent = needs.take("exponent", Unit::One);
    const double from_C = needs.take("from", Unit::Celsius);
    const double to_C = needs.take("to", Unit::Celsius);
    if (!needs.ok() || !within(oil_C, from_C, to_C)) {
        return std::nullopt;
    }
    return std::min(1.0, factor * std::exp(-exponent * oil_C));
}

std::optional<double> saturation_mg_kg(double oil_C, const model::LimitSet& solubility) {
    Needs needs(solubility);
    const double a = needs.take("a", Unit::One);
    const double b_K = needs.take("b", Unit::Kelvin);
    if (!needs.ok() || !within(oil_C, -20.0, 110.0)) {
        return std::nullopt;
    }
    const double mg_kg = std::pow(10.0, a - b_K / (273.15 + oil_C));
    return std::isfinite(mg_kg) && mg_kg > 0.0 ? std::optional(mg_kg) : std::nullopt;
}

Outcome water(const WaterReadings& readings, const WaterLimits& sets) {
    constexpr const char* kSubject = "oil.water";
    if (!within(readings.water_mg_kg, 0.0, 500.0) || !within(readings.oil_C, -20.0, 110.0)) {
        return no_verdict(kSubject, "oil.water.impossible");
    }
    const auto saturated = saturation_mg_kg(readings.oil_C, sets.solubility);
    if (!saturated) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", sets.solubility.title}});
    }
    const double saturation = 100.0 * readings.water_mg_kg / *saturated;
    const auto factor = factor_to_20(readings.oil_C, sets.correction);

    const auto as_sampled =
        grade_high_is_bad(sets.limits, "water.as_sampled", readings.water_mg_kg, Unit::MilligramPerKilogram);
    const bool wants_corrected =
        grade_high_is_bad(sets.limits, "water.at_20", 0.0, Unit::MilligramPerKilogram).has_value();
    if (as_sampled.has_value() == wants_corrected) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", sets.limits.title}});
    }
    if (wants_corrected && !factor) {
        return no_verdict(kSubject, "oil.water.no_correction",
                          {{"oil", Quantity{readings.oil_C, Unit::Celsius}}});
    }
    const double judged = wants_corrected ? readings.water_mg_kg * *factor : readings.water_mg_kg;
    const auto graded =
        wants_corrected ? grade_high_is_bad(sets.limits, "water.at_20", judged, Unit::MilligramPerKilogram)
                        : as_sampled;
    const auto by_saturation = grade_high_is_bad(sets.saturation, "saturation", saturation, Unit::Percent);
    if (!by_saturation) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", sets.saturation.title}});
    }

    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.grade = graded->grade;
    verdict.source = source_of(sets.limits, *graded->by);
    const Quantity sampled{readings.water_mg_kg, Unit::MilligramPerKilogram};
    const Quantity at_temperature{readings.oil_C, Unit::Celsius};
    const char* kind = wants_corrected ? "oil.water.at_20" : "oil.water.as_sampled";
    verdict.because = {kind,
                       {{"water", Quantity{judged, Unit::MilligramPerKilogram}},
                        {"oil", at_temperature},
                        {"limit", graded->by->value},
                        {"saturation", Quantity{saturation, Unit::Percent}}}};
    if (by_saturation->grade > verdict.grade) {
        verdict.grade = by_saturation->grade;
        verdict.source = source_of(sets.saturation, *by_saturation->by);
        verdict.because = {"oil.water.near_saturation",
                           {{"saturation", Quantity{saturation, Unit::Percent}},
                            {"oil", at_temperature},
                            {"limit", by_saturation->by->value}}};
    }
    if (readings.free_water) {
        verdict.grade = model::worse(verdict.grade, Grade::Repair);
        verdict.because = {"oil.water.free", {}};
    }
    verdict.workings = {{"work.oil.water", sampled, ""}, {"work.oil.temperature", at_temperature, ""}};
    if (factor) {
        verdict.workings.push_back({"work.oil.water_factor",
                                    {*factor, Unit::One},
                                    "a · exp(−b · " + model::number_for_people(readings.oil_C) +
                                        "), 1 at most; " + sets.correction.title});
        verdict.workings.push_back(
            {"work.oil.water_at_20",
             {readings.water_mg_kg * *factor, Unit::MilligramPerKilogram},
             model::number_for_people(readings.water_mg_kg) + " × " + model::number_for_people(*factor, 3)});
    }
    verdict.workings.push_back({"work.oil.water_saturation",
                                {*saturated, Unit::MilligramPerKilogram},
                                "10^(a − b / (273.15 + " + model::number_for_people(readings.oil_C) + ")); " +
                                    sets.solubility.title});
    verdict.workings.push_back({"work.oil.saturation",
                                {saturation, Unit::Percent},
                                "100 × " + model::number_for_people(readings.water_mg_kg) + " / " +
                                    model::number_for_people(*saturated)});
    verdict.workings.push_back({"work.oil.limit", graded->by->value, sets.limits.title});
    if (verdict.grade != Grade::Sound) {
        verdict.action = {
            verdict.grade == Grade::Watch ? "oil.water.action.watch" : "oil.water.action.repair", {}};
        verdict.cautions = {{"oil.caution.pcb_unknown", {}}};
    }
    verdict.when = usual_when(verdict.grade);
    verdict.cautions.push_back({"oil.water.caution.paper", {}});
    return verdict;
}

} // namespace crossarm::rules
