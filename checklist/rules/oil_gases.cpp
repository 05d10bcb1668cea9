// Gas dissolved in the oil.
#include "checklist/rules/oil_gases.hpp"

#include "checklist/rules/grading.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <tuple>
#include <utility>

namespace crossarm::rules {

using model::Grade;
using model::Quantity;
using model::Unit;

namespace {

constexpr const char* kSubject = "oil.gases";
constexpr double kMostPpm = 1'000'000.0;

struct NamedGas {
    const char* name;
    double ppm;
};

std::array<NamedGas, 5> fault_gases(const Gases& gases) {
    return {{{"hydrogen", gases.hydrogen_ppm},
             {"methane", gases.methane_ppm},
             {"ethane", gases.ethane_ppm},
             {"ethylene", gases.ethylene_ppm},
             {"acetylene", gases.acetylene_ppm}}};
}

/// NaN for 0/0, infinite for something over nothing: both compare as they should.
double ratio(double over, double under) {
    return over / under;
}

bool ratio_holds(double value, double low, double high) {
    const bool has_low = low >= 0.0;
    const bool has_high = high >= 0.0;
    if (has_low && has_high) {
        return value >= low && value <= high;
    }
    return (!has_low || value > low) && (!has_high || value < high);
}

/// At least `percent` of the sum, without dividing.
bool share_from(double gas, double sum, double percent) {
    return 100.0 * gas >= percent * sum;
}

std::string joined(const std::vector<GasFault>& faults) {
    std::string text;
    for (const GasFault fault : faults) {
        text += (text.empty() ? "" : " + ") + std::string(name(fault));
    }
    return text;
}

/// A gas now above its typical value or with a sharp rise.
struct Notable {
    Grade grade = Grade::Sound;
    const model::Limit* by = nullptr;
    std::string gas;
    double ppm = 0.0;
    bool rising = false;
};

/// The worst of the gases by amount; `by` is null when the set has none of the gases.
Notable by_amount(const Gases& now, const std::optional<EarlierGases>& earlier, const GasLimits& limits) {
    const auto rise = limits.meaning.value("rise.share_above", Unit::Percent);
    Notable worst;
    const auto gases_now = fault_gases(now);
    const auto gases_then = earlier ? fault_gases(earlier->gases) : gases_now;
    for (std::size_t i = 0; i < gases_now.size(); ++i) {
        const auto& [gas, ppm] = gases_now[i];
        const auto graded = grade_high_is_bad(limits.typical, gas, ppm, Unit::PartsPerMillion);
        if (!graded) {
            continue;
        }
        // A rise counts only where it is more than the scatter of small figures: above half the limit.
        const bool rising = rise && earlier && 2.0 * ppm > graded->by->value.value &&
                            100.0 * (ppm - gases_then[i].ppm) > *rise * gases_then[i].ppm;
        Grade grade = graded->grade;
        if (rising) {
            grade = grade == Grade::Sound ? Grade::Watch : model::worse(grade, Grade::Repair);
        }
        const bool more = grade > worst.grade || (grade == worst.grade && rising && !worst.rising);
        if (worst.by == nullptr || more) {
            worst = {grade, graded->by, gas, ppm, rising};
        }
    }
    return worst;
}

} // namespace

std::string_view name(GasFault fault) {
    constexpr std::array<std::string_view, 7> kNames = {"PD", "D1", "D2", "T1", "T2", "T3", "DT"};
    return kNames.at(static_cast<std::size_t>(fault));
}

bool possible(const Gases& gases) {
    for (const auto& gas : fault_gases(gases)) {
        if (!within(gas.ppm, 0.0, kMostPpm)) {
            return false;
        }
    }
    return (!gases.carbon_monoxide_ppm || within(*gases.carbon_monoxide_ppm, 0.0, kMostPpm)) &&
           (!gases.carbon_dioxide_ppm || within(*gases.carbon_dioxide_ppm, 0.0, kMostPpm));
}

std::vector<GasFault> ratio_codes(const Gases& gases, const model::LimitSet& ratios) {
    const auto* table = ratios.table("ratios");
    if (table == nullptr || !possible(gases)) {
        return {};
    }
    const double acetylene_ethylene = ratio(gases.acetylene_ppm, gases.ethylene_ppm);
    const double methane_hydrogen = ratio(gases.methane_ppm, gases.hydrogen_ppm);
    const double ethylene_ethane = ratio(gases.ethylene_ppm, gases.ethane_ppm);
    std::vector<GasFault> codes;
    for (const GasFault fault :
         {GasFault::PD, GasFault::D1, GasFault::D2, GasFault::T1, GasFault::T2, GasFault::T3}) {
        const auto* row = row_of(*table, name(fault));
        if (row == nullptr) {
            continue;
        }
        const auto holds = [&](double value, std::string_view low, std::string_view high) {
            const auto from = cell(*table, *row, low, Unit::One);
            const auto to = cell(*table, *row, high, Unit::One);
            return from && to && ratio_holds(value, *from, *to);
        };
        if (holds(acetylene_ethylene, "acetylene_ethylene.low", "acetylene_ethylene.high") &&
            holds(methane_hydrogen, "methane_hydrogen.low", "methane_hydrogen.high") &&
            holds(ethylene_ethane, "ethylene_ethane.low", "ethylene_ethane.high")) {
            codes.push_back(fault);
        }
    }
    return codes;
}

std::optional<GasFault> triangle_zone(const Gases& gases, const model::LimitSet& triangle) {
    Needs needs(triangle);
    const double pd_methane = needs.take("pd.methane", Unit::Percent);
    const double t2_ethylene = needs.take("t2.ethylene", Unit::Percent);
    const double t3_ethylene = needs.take("t3.ethylene", Unit::Percent);
    const double thermal_acetylene = needs.take("thermal.acetylene", Unit::Percent);
    const double t3_acetylene = needs.take("t3.acetylene", Unit::Percent);
    const double arc_acetylene = needs.take("discharge.acetylene", Unit::Percent);
    const double d2_ethylene = needs.take("d2.ethylene", Unit::Percent);
    const double mixed_ethylene = needs.take("mixed.ethylene", Unit::Percent);
    const double mixed_acetylene = needs.take("mixed.acetylene", Unit::Percent);
    const double sum = gases.methane_ppm + gases.ethylene_ppm + gases.acetylene_ppm;
    if (!needs.ok() || !possible(gases) || sum <= 0.0) {
        return std::nullopt;
    }
    const auto methane = [&](double percent) { return share_from(gases.methane_ppm, sum, percent); };
    const auto ethylene = [&](double percent) { return share_from(gases.ethylene_ppm, sum, percent); };
    const auto acetylene = [&](double percent) { return share_from(gases.acetylene_ppm, sum, percent); };

    if (methane(pd_methane)) {
        return GasFault::PD;
    }
    if (!acetylene(thermal_acetylene) && !ethylene(t3_ethylene)) {
        return ethylene(t2_ethylene) ? GasFault::T2 : GasFault::T1;
    }
    if (!acetylene(t3_acetylene) && ethylene(t3_ethylene)) {
        return GasFault::T3;
    }
    if (acetylene(arc_acetylene) && !ethylene(d2_ethylene)) {
        return GasFault::D1;
    }
    if (acetylene(ethylene(mixed_ethylene) ? mixed_acetylene : arc_acetylene)) {
        return GasFault::D2;
    }
    return GasFault::DT;
}

Outcome gases(const Gases& now, const std::optional<EarlierGases>& earlier, const GasLimits& limits) {
    if (!possible(now) ||
        (earlier && (!possible(earlier->gases) || !within(earlier->days_ago, 0.0, 20'000.0) ||
                     earlier->days_ago == 0.0))) {
        return no_verdict(kSubject, "oil.gases.impossible");
    }
    const Notable notable = by_amount(now, earlier, limits);
    if (notable.by == nullptr) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", limits.typical.title}});
    }
    const auto* meaning = limits.meaning.table("fault");
    if (meaning == nullptr || limits.ratios.table("ratios") == nullptr) {
        return no_verdict(kSubject, "oil.no_limit", {{"set", limits.meaning.title}});
    }

    model::Verdict verdict;
    verdict.subject = kSubject;
    verdict.source = source_of(limits.typical, *notable.by);
    for (const auto& gas : fault_gases(now)) {
        verdict.workings.push_back(
            {std::string("work.oil.gas.") + gas.name, {gas.ppm, Unit::PartsPerMillion}, ""});
    }
    verdict.workings.push_back({"work.oil.gas.limit", notable.by->value, limits.typical.title});
    if (earlier) {
        const double per_year = [&] {
            const auto then = fault_gases(earlier->gases);
            const auto at = std::find_if(then.begin(), then.end(),
                                         [&](const NamedGas& gas) { return notable.gas == gas.name; });
            return (notable.ppm - at->ppm) / earlier->days_ago * 365.25;
        }();
        verdict.workings.push_back(
            {"work.oil.gas.rise_per_year", {per_year, Unit::PartsPerMillion}, notable.gas});
    }
    const Quantity amount{notable.ppm, Unit::PartsPerMillion};
    if (notable.grade == Grade::Sound) {
        verdict.because = {"oil.gases.sound", {{"set", limits.typical.title}}};
        return verdict;
    }

    const auto zone = triangle_zone(now, limits.triangle);
    const auto codes = ratio_codes(now, limits.ratios);
    auto faults = codes;
    if (zone) {
        faults.push_back(*zone);
    }
    verdict.grade = notable.grade;
    for (const GasFault fault : faults) {
        const auto* row = row_of(*meaning, name(fault));
        const auto grade = row == nullptr ? std::nullopt : cell(*meaning, *row, "grade", Unit::One);
        if (!grade || !within(*grade, 0.0, 3.0)) {
            return no_verdict(kSubject, "oil.no_limit", {{"set", limits.meaning.title}});
        }
        const auto means = static_cast<Grade>(static_cast<int>(*grade));
        if (means > verdict.grade) {
            verdict.grade = means;
            verdict.source = source_of(limits.meaning, *meaning, *row);
        }
    }
    const double sum = now.methane_ppm + now.ethylene_ppm + now.acetylene_ppm;
    if (sum > 0.0) {
        const std::string total = " / " + model::number_for_people(sum);
        for (const auto& [key, ppm] : {std::pair("work.oil.gas.methane_share", now.methane_ppm),
                                       std::pair("work.oil.gas.ethylene_share", now.ethylene_ppm),
                                       std::pair("work.oil.gas.acetylene_share", now.acetylene_ppm)}) {
            verdict.workings.push_back(
                {key, {100.0 * ppm / sum, Unit::Percent}, "100 × " + model::number_for_people(ppm) + total});
        }
    }
    for (const auto& [key, over, under] :
         {std::tuple("work.oil.gas.acetylene_ethylene", now.acetylene_ppm, now.ethylene_ppm),
          std::tuple("work.oil.gas.methane_hydrogen", now.methane_ppm, now.hydrogen_ppm),
          std::tuple("work.oil.gas.ethylene_ethane", now.ethylene_ppm, now.ethane_ppm)}) {
        if (under > 0.0) {
            verdict.workings.push_back(
                {key,
                 {over / under, Unit::One},
                 model::number_for_people(over) + " / " + model::number_for_people(under)});
        }
    }
    verdict.because = {notable.rising ? "oil.gases.rising" : "oil.gases.over",
                       {{"gas", notable.gas},
                        {"amount", amount},
                        {"limit", notable.by->value},
                        {"zone", zone ? std::string(name(*zone)) : std::string("–")},
                        {"codes", codes.empty() ? std::string("–") : joined(codes)}}};
    verdict.action = {verdict.grade == Grade::Danger   ? "oil.gases.action.off_line"
                      : verdict.grade == Grade::Repair ? "oil.gases.action.investigate"
                                                       : "oil.gases.action.sample_again",
                      {}};
    verdict.when = usual_when(verdict.grade);
    const auto paper = limits.meaning.value("paper.dioxide_monoxide_below", Unit::One);
    if (paper && now.carbon_monoxide_ppm && now.carbon_dioxide_ppm && *now.carbon_monoxide_ppm > 0.0 &&
        *now.carbon_dioxide_ppm < *paper * *now.carbon_monoxide_ppm) {
        verdict.cautions.push_back({"oil.gases.caution.paper", {}});
    }
    verdict.cautions.push_back({"oil.gases.caution.methods", {}});
    return verdict;
}

} // namespace crossarm::rules
