// The breather.
#include "checklist/rules/breather.hpp"

#include "checklist/rules/grading.hpp"

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

std::vector<model::Phrase> gel_cautions(const std::string& kind) {
    if (kind == "orange") {
        return {{"breather.caution.orange_dye", {}}};
    }
    return {{"breather.caution.cobalt", {}}};
}

Outcome gel(const GelReadings& readings, const model::LimitSet& limits) {
    constexpr const char* kSubject = "breather.gel";
    if (readings.kind == "none") {
        return no_verdict(kSubject, "breather.none");
    }
    if (readings.kind != "blue" && readings.kind != "orange" && !readings.kind.empty()) {
        return no_verdict(kSubject, "breather.unknown_kind", {{"kind", readings.kind}});
    }
    if (!within(readings.spent_percent, 0.0, 100.0)) {
        return no_verdict(kSubject, "breather.gel.impossible");
    }
    const auto graded = grade_high_is_bad(limits, "spent", readings.spent_percent, Unit::Percent);
    if (!graded) {
        return no_verdict(kSubject, "breather.no_limit", {{"set", limits.title}});
    }
    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.grade = readings.from_top ? model::worse(graded->grade, Grade::Repair) : graded->grade;
    verdict.when = usual_when(verdict.grade);
    verdict.source = source_of(limits, *graded->by);
    const Quantity spent{readings.spent_percent, Unit::Percent};
    verdict.workings = {{"work.breather.spent", spent, ""},
                        {"work.breather.left",
                         {100.0 - readings.spent_percent, Unit::Percent},
                         "100 − " + model::number_for_people(readings.spent_percent)},
                        {"work.breather.limit", graded->by->value, limits.title}};
    const char* because = verdict.grade == Grade::Sound   ? "breather.gel.sound"
                          : readings.from_top             ? "breather.gel.from_top"
                          : verdict.grade == Grade::Watch ? "breather.gel.watch"
                                                          : "breather.gel.repair";
    verdict.because = {because, {{"spent", spent}, {"limit", graded->by->value}}};
    if (verdict.grade == Grade::Sound) {
        return verdict;
    }
    verdict.action = {readings.from_top               ? "breather.gel.action.find_leak"
                      : verdict.grade == Grade::Watch ? "breather.gel.action.carry"
                                                      : "breather.gel.action.exchange",
                      {}};
    verdict.cautions = gel_cautions(readings.kind);
    return verdict;
}

} // namespace crossarm::rules
