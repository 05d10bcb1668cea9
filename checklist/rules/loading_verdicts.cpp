// What currents and voltages mean against the sets of limits.
#include "checklist/rules/answer.hpp"
#include "checklist/rules/loading.hpp"

#include <algorithm>
#include <array>
#include <numbers>
#include <string>

namespace crossarm::rules {
namespace {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;
using model::When;

constexpr double kMostAmpere = 20'000.0;

bool all_within(const std::array<double, 3>& values, double low, double high) {
    return std::all_of(values.begin(), values.end(), [&](double x) { return within(x, low, high); });
}

double sum(const std::array<double, 3>& values) {
    return values[0] + values[1] + values[2];
}

std::string three(const std::array<double, 3>& x) {
    return model::number_for_people(x[0]) + ", " + model::number_for_people(x[1]) + ", " +
           model::number_for_people(x[2]);
}

} // namespace

Outcome load(const LoadReadings& readings, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "loading.share";
    if (!all_within(readings.current_A, 0.0, kMostAmpere) ||
        (readings.neutral_A && !within(*readings.neutral_A, 0.0, kMostAmpere))) {
        return refuse(kSubject, say("no.loading.current"));
    }
    const auto rated_A = full_load_A(readings.rating_kVA, readings.lv_V);
    if (!rated_A || readings.lv_V > 1000.0) {
        return refuse(kSubject, say("no.loading.rating"));
    }
    const double worst_neutral_A = sum(readings.current_A);
    // Two clamp meters may differ by a few percent; more than that is a wrong reading.
    if (readings.neutral_A && *readings.neutral_A > 1.05 * worst_neutral_A + 1.0) {
        return refuse(kSubject,
                      say("no.loading.neutral", {{"most", Quantity{worst_neutral_A, Unit::Ampere}}}));
    }
    Needs needs(limits);
    const double watch = needs.take("share.watch_above", Unit::Percent);
    const double repair = needs.take("share.repair_above", Unit::Percent);
    const double danger = needs.take("share.danger_above", Unit::Percent);
    const double unbalanced = needs.take("unbalance.watch_above", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const double highest_A = *std::max_element(readings.current_A.begin(), readings.current_A.end());
    const double share_percent = 100.0 * highest_A / *rated_A;
    const double unbalance = unbalance_percent(readings.current_A).value_or(0.0);
    const double power_kVA = worst_neutral_A / 3.0 * std::numbers::sqrt3 * readings.lv_V / 1000.0;

    Verdict v;
    v.subject = kSubject;
    v.workings = {
        {"work.loading.rated", {*rated_A, Unit::Ampere}, "S / (√3 × U)"},
        {"work.loading.power", {power_kVA, Unit::KilovoltAmpere}, "√3 × U × (A + B + C) / 3"},
        {"work.loading.share",
         {share_percent, Unit::Percent},
         "100 × " + model::number_for_people(highest_A) + " / " + model::number_for_people(*rated_A)},
        {"work.loading.unbalance", {unbalance, Unit::Percent}, three(readings.current_A)},
        {"work.loading.neutral_equal",
         {*neutral_equal_angles_A(readings.current_A), Unit::Ampere},
         "√(A² + B² + C² - AB - BC - CA)"},
        {"work.loading.neutral_worst", {worst_neutral_A, Unit::Ampere}, "A + B + C"}};
    if (readings.neutral_A) {
        v.workings.push_back({"work.loading.neutral", {*readings.neutral_A, Unit::Ampere}, ""});
    }
    const Places places = {{"share", Quantity{share_percent, Unit::Percent}},
                           {"power", Quantity{power_kVA, Unit::KilovoltAmpere}},
                           {"unbalance", Quantity{unbalance, Unit::Percent}}};
    v.source = limits.source_of("share.watch_above");
    v.because = say("because.loading.within", places);
    if (share_percent > danger) {
        v.source = limits.source_of("share.danger_above");
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns, say("because.loading.far_over", places),
                 say("action.loading.shed"));
    } else if (share_percent > repair) {
        v.source = limits.source_of("share.repair_above");
        grade_as(v, Grade::Repair, When::Within30Days, say("because.loading.over", places),
                 say("action.loading.move_or_uprate"));
    } else if (share_percent > watch) {
        grade_as(v, Grade::Watch, When::AtNextVisit, say("because.loading.near", places),
                 say("action.loading.log_peak"));
    } else if (unbalance > unbalanced && share_percent > watch / 2.0) {
        v.source = limits.source_of("unbalance.watch_above");
        grade_as(v, Grade::Watch, When::AtNextVisit, say("because.loading.unbalanced", places),
                 say("action.loading.balance"));
    }
    v.cautions.push_back(say("caution.loading.moment"));
    return v;
}

Outcome supply_voltage(const SupplyReadings& readings, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "voltage.supply";
    if (!all_within(readings.phase_V, 0.0, 1000.0)) {
        return refuse(kSubject, say("no.loading.voltage"));
    }
    Needs needs(limits);
    const double low = needs.take("voltage.low", Unit::Volt);
    const double high = needs.take("voltage.high", Unit::Volt);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const auto [lowest, highest] = std::minmax_element(readings.phase_V.begin(), readings.phase_V.end());
    const bool over = *highest > high;
    const auto danger_low = limits.value("voltage.danger_low", Unit::Volt);
    const auto danger_high = limits.value("voltage.danger_high", Unit::Volt);
    Verdict v;
    v.subject = kSubject;
    v.workings = {{"work.loading.voltage_low", {*lowest, Unit::Volt}, three(readings.phase_V)},
                  {"work.loading.voltage_high", {*highest, Unit::Volt}, ""}};
    const Places places = {{"lowest", Quantity{*lowest, Unit::Volt}},
                           {"highest", Quantity{*highest, Unit::Volt}},
                           {"low", Quantity{low, Unit::Volt}},
                           {"high", Quantity{high, Unit::Volt}}};
    v.source = limits.source_of(over ? "voltage.high" : "voltage.low");
    v.because = say("because.loading.voltage_within", places);
    if ((danger_high && *highest > *danger_high) || (danger_low && *lowest < *danger_low)) {
        const bool by_high = danger_high && *highest > *danger_high;
        v.source = limits.source_of(by_high ? "voltage.danger_high" : "voltage.danger_low");
        grade_as(v, Grade::Danger, When::BeforeSupplyReturns, say("because.loading.voltage_far_out", places),
                 say("action.loading.check_neutral"));
    } else if (over || *lowest < low) {
        grade_as(v, Grade::Repair, When::Within7Days, say("because.loading.voltage_out", places),
                 say("action.loading.tap"));
    }
    if (v.grade != Grade::Sound) {
        v.cautions.push_back(say("caution.loading.tap_dead"));
    }
    return v;
}

Outcome voltage_unbalance(const std::array<double, 3>& line_V, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "voltage.unbalance";
    if (!all_within(line_V, 1.0, 1e6)) {
        return refuse(kSubject, say("no.loading.voltage"));
    }
    Needs needs(limits);
    const double watch = needs.take("unbalance.watch_above", Unit::Percent);
    const double repair = needs.take("unbalance.repair_above", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const bool by_sequence = limits.value("unbalance.by_sequence", Unit::One).value_or(0.0) > 0.0;
    const auto found = by_sequence ? unbalance_factor_percent(line_V) : unbalance_percent(line_V);
    if (!found) {
        return refuse(kSubject, say("no.loading.voltage"));
    }
    Verdict v;
    v.subject = kSubject;
    v.workings = {{by_sequence ? "work.loading.unbalance_factor" : "work.loading.voltage_unbalance",
                   {*found, Unit::Percent},
                   three(line_V)}};
    const Places places = {{"unbalance", Quantity{*found, Unit::Percent}},
                           {"watch", Quantity{watch, Unit::Percent}}};
    v.source = limits.source_of(*found > repair ? "unbalance.repair_above" : "unbalance.watch_above");
    if (*found > watch) {
        grade_as(v, *found > repair ? Grade::Repair : Grade::Watch,
                 *found > repair ? When::Within7Days : When::AtNextVisit,
                 say("because.loading.voltage_unbalanced", places), say("action.loading.find_unbalance"));
    } else {
        v.because = say("because.loading.voltage_balanced", places);
    }
    return v;
}

} // namespace crossarm::rules
