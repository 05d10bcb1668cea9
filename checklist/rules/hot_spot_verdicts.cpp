// What the temperatures mean against a set of loading limits.
#include "checklist/rules/answer.hpp"
#include "checklist/rules/hot_spot.hpp"

#include <algorithm>

namespace crossarm::rules {
namespace {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;
using model::When;

/// One column of a loading-limit table.
struct Column {
    double hot_spot_C = 0.0;
    double top_oil_C = 0.0;
    double share = 0.0;
    std::string name;
};

struct LoadingLimits {
    Column normal;
    Column emergency;
    double ceiling_C = 0.0; ///< hot-spot
};

Column take_column(Needs& needs, const std::string& name) {
    return {needs.take(name + ".hot_spot", Unit::Celsius), needs.take(name + ".top_oil", Unit::Celsius),
            needs.take(name + ".share", Unit::One), name};
}

LoadingLimits take(Needs& needs) {
    return {take_column(needs, "normal"), take_column(needs, "emergency"),
            needs.take("ceiling.hot_spot", Unit::Celsius)};
}

/// The limit of the column that is passed; empty when none is.
std::string passed(const ProfileRun& run, const Column& c) {
    if (run.highest_hot_spot_C > c.hot_spot_C) {
        return c.name + ".hot_spot";
    }
    if (run.highest_top_oil_C > c.top_oil_C) {
        return c.name + ".top_oil";
    }
    return run.highest_share > c.share ? c.name + ".share" : "";
}

} // namespace

Outcome day_load(const DayLoad& day, const ThermalFacts& facts, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "loading.hot_spot";
    Needs needs(limits);
    const auto [normal, emergency, ceiling_C] = take(needs);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const auto start = periodic_start(facts, day.profile);
    const auto run = start ? run_profile(facts, *start, day.profile, day.paper) : std::nullopt;
    if (!run) {
        return refuse(kSubject, say("no.loading.profile"));
    }
    Verdict v;
    v.subject = kSubject;
    v.workings = {{"work.loading.top_oil", {run->highest_top_oil_C, Unit::Celsius}, ""},
                  {"work.loading.hot_spot", {run->highest_hot_spot_C, Unit::Celsius}, ""},
                  {"work.loading.peak_share", {100.0 * run->highest_share, Unit::Percent}, ""},
                  {"work.loading.ageing",
                   {run->mean_ageing_rate(), Unit::One},
                   day.paper == Paper::Normal ? "2^((θ - 98) / 6)" : "exp(15000 / 383 - 15000 / (θ + 273))"}};
    const Places places = {{"hot_spot", Quantity{run->highest_hot_spot_C, Unit::Celsius}},
                           {"top_oil", Quantity{run->highest_top_oil_C, Unit::Celsius}},
                           {"ageing", Quantity{run->mean_ageing_rate(), Unit::One}}};
    const std::string over_normal = passed(*run, normal);
    const std::string over_emergency = passed(*run, emergency);
    v.source = limits.source_of("normal.hot_spot");
    v.because = say("because.loading.day_normal", places);
    if (run->highest_hot_spot_C > ceiling_C) {
        v.source = limits.source_of("ceiling.hot_spot");
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns, say("because.loading.day_ceiling", places),
                 say("action.loading.shed"));
    } else if (!over_emergency.empty() || !over_normal.empty()) {
        v.source = limits.source_of(over_emergency.empty() ? over_normal : over_emergency);
        grade_as(v, Grade::Repair, over_emergency.empty() ? When::Within30Days : When::Within7Days,
                 say(over_emergency.empty() ? "because.loading.day_over_normal"
                                            : "because.loading.day_over_emergency",
                     places),
                 say("action.loading.move_or_uprate"));
    } else if (run->mean_ageing_rate() > 1.0) {
        grade_as(v, Grade::Watch, When::AtNextVisit, say("because.loading.day_ages", places),
                 say("action.loading.log_peak"));
    }
    v.cautions.push_back(say("caution.loading.model"));
    return v;
}

Outcome overload(const OverloadReadings& r, const ThermalFacts& facts, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "loading.overload";
    Needs needs(limits);
    const auto [normal, emergency, ceiling_C] = take(needs);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const auto before = steady(facts, r.share_before, r.ambient_C);
    if (!before || !within(r.share_wanted, 1e-3, 3.0)) {
        return refuse(kSubject, say("no.loading.overload"));
    }
    const auto in_normal = permitted_share(facts, *before, r.ambient_C, r.minutes, normal.hot_spot_C,
                                           normal.top_oil_C, normal.share);
    const auto in_emergency =
        permitted_share(facts, *before, r.ambient_C, r.minutes, std::min(emergency.hot_spot_C, ceiling_C),
                        emergency.top_oil_C, emergency.share);
    const auto end = after(facts, *before, r.share_wanted, r.ambient_C, r.minutes);
    if (!in_normal || !in_emergency || !end) {
        return refuse(kSubject, say("no.loading.overload"));
    }
    Verdict v;
    v.subject = kSubject;
    v.workings = {{"work.loading.before", {before->hot_spot_C(), Unit::Celsius}, ""},
                  {"work.loading.top_oil", {end->top_oil_C, Unit::Celsius}, ""},
                  {"work.loading.hot_spot", {end->hot_spot_C(), Unit::Celsius}, ""},
                  {"work.loading.permitted_normal", {100.0 * *in_normal, Unit::Percent}, ""},
                  {"work.loading.permitted_emergency", {100.0 * *in_emergency, Unit::Percent}, ""}};
    const Places places = {{"wanted", Quantity{100.0 * r.share_wanted, Unit::Percent}},
                           {"minutes", Quantity{r.minutes, Unit::Minute}},
                           {"normal", Quantity{100.0 * *in_normal, Unit::Percent}},
                           {"emergency", Quantity{100.0 * *in_emergency, Unit::Percent}}};
    v.source = limits.source_of("normal.hot_spot");
    v.because = say("because.loading.overload_fits", places);
    if (r.share_wanted > *in_emergency) {
        v.source = limits.source_of("emergency.hot_spot");
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns, say("because.loading.overload_never", places),
                 say("action.loading.shed"));
    } else if (r.share_wanted > *in_normal) {
        grade_as(v, Grade::Repair, When::Within7Days, say("because.loading.overload_emergency", places),
                 say("action.loading.overload_ask"));
    }
    v.cautions = {say("caution.loading.model"), say("caution.loading.bushings")};
    return v;
}

} // namespace crossarm::rules
