#include "checklist/rules/uprating_grading.hpp"

#include "checklist/rules/uprating_check.hpp"

#include <numbers>
#include <utility>

namespace crossarm::rules {
namespace {

using model::Quantity;
using model::Unit;

constexpr std::string_view kSubject = "uprating.grading";

const model::LimitRow* row_for(const FuseLink& link, const model::LimitSet& set) {
    const model::LimitTable* links = set.table("links");
    return links == nullptr ? nullptr : row_of(*links, link_text(link));
}

Quantity seconds(double x) {
    return {x, Unit::Second};
}

} // namespace

std::optional<Melting> melting_of(const FuseLink& link, double hv_A, const model::LimitSet& set) {
    const model::LimitRow* row = row_for(link, set);
    if (row == nullptr || !within(hv_A, 0.0, 200'000.0)) {
        return std::nullopt;
    }
    Melting m;
    for (const auto& [column, time_s] :
         {std::pair("at_300_s", 300.0), std::pair("at_10_s", 10.0), std::pair("at_0_1_s", 0.1)}) {
        const auto least_A = cell(*set.table("links"), *row, column, Unit::Ampere);
        if (!least_A) {
            return std::nullopt;
        }
        if (hv_A < *least_A) {
            m.surely_whole_s = time_s;
            return m;
        }
        m.may_melt_s = time_s;
    }
    return m;
}

std::optional<double> hv_share_A(double fault_kA, double lv_V, double hv_kV) {
    if (!within(fault_kA, 1e-3, 200.0) || !within(lv_V, 50.0, 1000.0) || !within(hv_kV, 1.0, 52.0)) {
        return std::nullopt;
    }
    return fault_kA * lv_V / hv_kV;
}

Outcome grading_check(const GradingReadings& r, const model::LimitSet& set) {
    Needs needs(set);
    const double margin = needs.take("margin", Unit::Percent) / 100.0;
    const double slowest_s = needs.take("clearing.most", Unit::Second);
    const model::LimitTable* links = needs.table("links");
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const auto hv_A = hv_share_A(r.fault_kA, r.lv_V, r.hv_kV);
    if (!hv_A || (r.clearing_s && !within(*r.clearing_s, 0.001, 60.0))) {
        return refuse(kSubject, say("no.uprating.grading"));
    }
    Places places = {
        {"link", link_text(r.link)}, {"fault", kilo_ampere(r.fault_kA)}, {"current", ampere(*hv_A)}};
    const auto melting = melting_of(r.link, *hv_A, set);
    if (!melting) {
        return refuse(kSubject, say("no.uprating.grading_link", places));
    }
    const double clearing_s = r.clearing_s.value_or(slowest_s);
    places.emplace_back("clearing", seconds(clearing_s));
    places.emplace_back("whole", seconds(melting->surely_whole_s));
    places.emplace_back("melt", seconds(melting->may_melt_s.value_or(0.0)));
    const bool clears = clearing_s <= margin * melting->surely_whole_s;
    const bool too_slow = r.clearing_s && melting->may_melt_s && clearing_s > margin * *melting->may_melt_s;
    if (!clears && !too_slow) {
        return refuse(kSubject,
                      say(r.clearing_s ? "no.uprating.grading_melting"
                                       : (melting->surely_whole_s > 0.0 ? "no.uprating.grading_clearing"
                                                                        : "no.uprating.grading_both"),
                          places));
    }
    model::Verdict v =
        passes(kSubject, source_of(set, *links, *row_for(r.link, set)),
               say(r.clearing_s ? "because.uprating.grading" : "because.uprating.grading_standard", places));
    v.workings = {{"work.uprating.fault", kilo_ampere(r.fault_kA), ""},
                  {"work.uprating.grading_current", ampere(*hv_A), "I × LV / HV"},
                  {"work.uprating.grading_two_phases", kilo_ampere(r.fault_kA * std::numbers::sqrt3 / 2.0),
                   "√3 / 2 × three-phase; the link still sees the whole"},
                  {"work.uprating.grading_whole", seconds(melting->surely_whole_s), ""},
                  {"work.uprating.grading_clearing", seconds(clearing_s),
                   r.clearing_s ? "" : "the slowest that the product standard allows"}};
    if (too_slow) {
        fails(v, say("because.uprating.grading_melts", places), say("action.uprating.grade", places));
    }
    v.cautions.push_back(say("caution.uprating.grading"));
    return v;
}

} // namespace crossarm::rules
