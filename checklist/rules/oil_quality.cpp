// Ageing of the oil.
#include "checklist/rules/oil_quality.hpp"

#include "checklist/rules/grading.hpp"

#include <string_view>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

namespace {

model::Verdict aged(const char* subject, const Graded& graded, Quantity reading, const char* working,
                    const model::LimitSet& limits) {
    model::Verdict verdict;
    verdict.subject = subject;
    verdict.grade = graded.grade;
    verdict.when = usual_when(graded.grade);
    verdict.source = source_of(limits, *graded.by);
    const std::string base = subject;
    verdict.because = {base + (graded.grade == Grade::Sound ? ".sound" : ".over"),
                       {{"value", reading}, {"limit", graded.by->value}, {"set", limits.title}}};
    verdict.workings = {{working, reading, ""}, {"work.oil.limit", graded.by->value, limits.title}};
    if (graded.grade != Grade::Sound) {
        verdict.action = {
            graded.grade == Grade::Watch ? "oil.ageing.action.watch" : "oil.ageing.action.repair", {}};
        verdict.cautions = {{"oil.caution.pcb_unknown", {}}};
    }
    return verdict;
}

/// The score of the first row whose bound is not exceeded.
std::optional<double> score_in(const model::LimitSet& set, std::string_view name, double value, Unit unit) {
    const auto* table = set.table(name);
    if (table == nullptr) {
        return std::nullopt;
    }
    const auto* row = row_up_to(*table, value, unit);
    return row != nullptr ? cell(*table, *row, "score", Unit::One) : std::nullopt;
}

} // namespace

Outcome acidity(double acidity_mgKOH_g, const model::LimitSet& limits) {
    constexpr const char* kSubject = "oil.acidity";
    if (!within(acidity_mgKOH_g, 0.0, 5.0)) {
        return no_verdict(kSubject, "oil.ageing.impossible");
    }
    const auto graded = grade_high_is_bad(limits, "acidity", acidity_mgKOH_g, Unit::MilligramKohPerGram);
    if (!graded) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", limits.title}});
    }
    return aged(kSubject, *graded, {acidity_mgKOH_g, Unit::MilligramKohPerGram}, "work.oil.acidity", limits);
}

Outcome loss_factor(double tan_delta_90, const model::LimitSet& limits) {
    constexpr const char* kSubject = "oil.loss_factor";
    if (!within(tan_delta_90, 0.0, 10.0)) {
        return no_verdict(kSubject, "oil.ageing.impossible");
    }
    const auto graded = grade_high_is_bad(limits, "loss_factor", tan_delta_90, Unit::One);
    if (!graded) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", limits.title}});
    }
    return aged(kSubject, *graded, {tan_delta_90, Unit::One}, "work.oil.loss_factor", limits);
}

Outcome tension(double tension_mN_m, std::optional<bool> inhibited, const model::LimitSet& limits) {
    constexpr const char* kSubject = "oil.tension";
    if (!within(tension_mN_m, 1.0, 80.0)) {
        return no_verdict(kSubject, "oil.ageing.impossible");
    }
    const auto with = grade_low_is_bad(limits, "tension.inhibited", tension_mN_m, Unit::MillinewtonPerMetre);
    const auto without =
        grade_low_is_bad(limits, "tension.uninhibited", tension_mN_m, Unit::MillinewtonPerMetre);
    auto graded = inhibited.value_or(true) ? with : without;
    if (!inhibited && with && without && without->grade > with->grade) {
        graded = without;
    }
    if (!graded) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", limits.title}});
    }
    return aged(kSubject, *graded, {tension_mN_m, Unit::MillinewtonPerMetre}, "work.oil.tension", limits);
}

Outcome look(const std::string& seen, const model::LimitSet& looks) {
    constexpr const char* kSubject = "oil.look";
    auto verdict = grade_by_sight(kSubject, looks, "look", seen);
    if (!verdict) {
        return no_verdict(kSubject, "oil.look.unknown", {{"seen", seen}});
    }
    if (verdict->grade != Grade::Sound) {
        verdict->action = {"oil.look.action", {}};
        verdict->cautions = {{"oil.caution.pcb_unknown", {}}};
    }
    return *verdict;
}

std::optional<OilIndex> oil_index(double moisture_mg_kg, double acidity_mgKOH_g, double breakdown_kV,
                                  const model::LimitSet& index) {
    if (!within(moisture_mg_kg, 0.0, 1e6) || !within(acidity_mgKOH_g, 0.0, 1e6) ||
        !within(breakdown_kV, 0.0, 1e6)) {
        return std::nullopt;
    }
    Needs needs(index);
    const double moisture_weight = needs.take("weight.moisture", Unit::One);
    const double acidity_weight = needs.take("weight.acidity", Unit::One);
    const double breakdown_weight = needs.take("weight.breakdown", Unit::One);
    const double collar_above = needs.take("collar.high_above_score", Unit::One);
    OilIndex out;
    const double low_collar = needs.take("collar.low", Unit::One);
    const double high_collar = needs.take("collar.high", Unit::One);
    out.cap = needs.take("cap", Unit::One);
    const auto moisture = score_in(index, "moisture", moisture_mg_kg, Unit::MilligramPerKilogram);
    const auto acid = score_in(index, "acidity", acidity_mgKOH_g, Unit::MilligramKohPerGram);
    const auto breakdown = score_in(index, "breakdown", breakdown_kV, Unit::Kilovolt);
    if (!needs.ok() || !moisture || !acid || !breakdown) {
        return std::nullopt;
    }
    out.score = moisture_weight * *moisture + acidity_weight * *acid + breakdown_weight * *breakdown;
    out.collar = out.score > collar_above ? high_collar : low_collar;
    const auto factor = score_in(index, "factor", out.score, Unit::One);
    if (!factor) {
        return std::nullopt;
    }
    out.factor = *factor;
    return out;
}

} // namespace crossarm::rules
