#include "checklist/rules/uprating_cable.hpp"

#include "checklist/rules/uprating_check.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace crossarm::rules {
namespace {

using model::NoVerdict;
using model::Unit;

constexpr std::string_view kSubject = "uprating.cable";
constexpr double kMarginalShare = 0.9;

constexpr std::array<std::pair<std::string_view, Laid>, 5> kLaid = {
    {{"e", Laid::E}, {"f", Laid::F}, {"c", Laid::C}, {"d1", Laid::D1}, {"d2", Laid::D2}}};

bool in_ground(Laid laid) {
    return laid == Laid::D1 || laid == Laid::D2;
}

bool possible(const CablePlace& p) {
    return (p.metal == Metal::Aluminium || p.metal == Metal::Copper) &&
           (p.insulation == "xlpe" || p.insulation == "pvc") && within(p.air_C, -40.0, 60.0) &&
           within(p.ground_C, -10.0, 60.0) && (!p.soil_Km_W || within(*p.soil_Km_W, 0.1, 10.0)) &&
           p.circuits_beside >= 0 && p.circuits_beside <= 40 && within(p.third_harmonic_percent, 0.0, 100.0);
}

std::string table_name(const CablePlace& p) {
    return std::string(p.metal == Metal::Copper ? "cu_" : "al_") + p.insulation + "_" +
           std::string(name(p.laid));
}

/// A factor by the next harsher row. 1 where the place meets the table's own condition and there is no factor
/// table; a refusal where it does not.
struct Factor {
    double value = 1.0;
    std::optional<NoVerdict> why_not;
};

Factor factor(const model::LimitSet& set, const std::string& table_name, double at, Unit unit,
              std::optional<double> reference, const char* refusal) {
    const model::LimitTable* table = set.table(table_name);
    if (table == nullptr) {
        // A milder place than the table's own is on the safe side.
        if (reference && at <= *reference) {
            return {};
        }
        return {0.0,
                refuse(kSubject, say(refusal, {{"set", set.title}, {"value", model::Quantity{at, unit}}}))};
    }
    const model::LimitRow* row = row_up_to(*table, at, unit);
    const auto value = row == nullptr ? std::nullopt : cell(*table, *row, "factor", Unit::One);
    if (!value) {
        return {0.0,
                refuse(kSubject, say(refusal, {{"set", set.title}, {"value", model::Quantity{at, unit}}}))};
    }
    return {*value, std::nullopt};
}

} // namespace

std::optional<Laid> laid_of(std::string_view text) {
    for (const auto& [word, laid] : kLaid) {
        if (word == text) {
            return laid;
        }
    }
    return std::nullopt;
}

std::string_view name(Laid laid) {
    for (const auto& [word, which] : kLaid) {
        if (which == laid) {
            return word;
        }
    }
    return "";
}

std::variant<Ampacity, NoVerdict> ampacity(const CablePlace& p, double area_mm2, int runs,
                                           const model::LimitSet& set) {
    if (!possible(p) || !within(area_mm2, 1.0, 1000.0) || runs < 1 || runs > 8) {
        return refuse(kSubject, say("no.uprating.cable"));
    }
    const model::LimitTable* table = set.table(table_name(p));
    const model::LimitRow* row =
        table == nullptr ? nullptr : row_of(*table, model::number_for_people(area_mm2));
    const auto listed = row == nullptr ? std::nullopt : cell(*table, *row, "ampacity", Unit::Ampere);
    if (!listed) {
        return refuse(kSubject, say("no.uprating.cable_row", {{"set", set.title},
                                                              {"size", square_mm(area_mm2)},
                                                              {"method", std::string(name(p.laid))}}));
    }
    Ampacity a;
    a.table_A = *listed;
    a.source = source_of(set, *table, *row);
    const bool ground = in_ground(p.laid);
    const auto warmth = ground
                            ? factor(set, "ground_" + p.insulation, p.ground_C, Unit::Celsius,
                                     set.value("reference.ground", Unit::Celsius), "no.uprating.cable_ground")
                            : factor(set, "air_" + p.insulation, p.air_C, Unit::Celsius,
                                     set.value("reference.air", Unit::Celsius), "no.uprating.cable_air");
    const auto together = factor(set, ground ? "grouping_duct" : "grouping_air", p.circuits_beside + runs,
                                 Unit::One, 1.0, "no.uprating.cable_grouping");
    Factor dry;
    if (ground && p.soil_Km_W) {
        dry = factor(set, "soil", *p.soil_Km_W, Unit::KelvinMetrePerWatt,
                     set.value("reference.soil", Unit::KelvinMetrePerWatt), "no.uprating.cable_soil");
    } else if (ground) {
        dry.why_not = refuse(kSubject, say("no.uprating.cable_soil_unknown", {{"set", set.title}}));
    }
    for (const Factor* f : {&warmth, &together, &std::as_const(dry)}) {
        if (f->why_not) {
            return *f->why_not;
        }
    }
    a.temperature = warmth.value;
    a.grouping = together.value;
    a.soil = dry.value;
    if (p.third_harmonic_percent > 0.0) {
        const auto from = set.value("harmonic.line_from", Unit::Percent);
        const auto plain = set.value("harmonic.plain_from", Unit::Percent);
        const auto lower = set.value("harmonic.factor", Unit::One);
        if (!from || !plain || !lower) {
            return refuse(kSubject, say("no.uprating.cable_harmonic", {{"set", set.title}}));
        }
        const bool derated = p.third_harmonic_percent >= *from && p.third_harmonic_percent <= *plain;
        a.harmonic = derated ? *lower : 1.0;
    }
    return a;
}

std::vector<double> cable_sizes(const CablePlace& p, const model::LimitSet& set) {
    std::vector<double> sizes;
    if (const model::LimitTable* table = set.table(table_name(p))) {
        for (const model::LimitRow& row : table->rows) {
            if (const auto area = cell(*table, row, "area", Unit::SquareMillimetre)) {
                sizes.push_back(*area);
            }
        }
    }
    std::sort(sizes.begin(), sizes.end());
    return sizes;
}

std::optional<double> cable_carries_A(const Cable& cable, const CablePlace& place, double uneven_percent,
                                      const model::LimitSet& set) {
    const auto found = ampacity(place, cable.area_mm2, cable.runs, set);
    const auto* a = std::get_if<Ampacity>(&found);
    if (a == nullptr || !within(uneven_percent, 0.0, 100.0)) {
        return std::nullopt;
    }
    const double spread = cable.runs > 1 ? 1.0 + uneven_percent / 100.0 : 1.0;
    return a->each_A() * cable.runs / spread;
}

Outcome cable_check(const Cable& cable, const CablePlace& place, double current_A, double uneven_percent,
                    const model::LimitSet& set) {
    if (!within(current_A, 0.0, 20'000.0) || !within(uneven_percent, 0.0, 100.0)) {
        return refuse(kSubject, say("no.uprating.cable"));
    }
    const auto found = ampacity(place, cable.area_mm2, cable.runs, set);
    if (const auto* none = std::get_if<NoVerdict>(&found)) {
        return *none;
    }
    const auto& a = std::get<Ampacity>(found);
    const double carries_A = *cable_carries_A(cable, place, uneven_percent, set);
    const Places places = {{"runs", count(cable.runs)},
                           {"size", square_mm(cable.area_mm2)},
                           {"carries", ampere(carries_A)},
                           {"current", ampere(current_A)},
                           {"method", std::string(name(place.laid))}};
    model::Verdict v = passes(kSubject, a.source, say("because.uprating.cable", places));
    v.workings = {{"work.uprating.current", ampere(current_A), ""},
                  {"work.uprating.cable_runs", count(cable.runs), ""},
                  {"work.uprating.cable_table", ampere(a.table_A), "one run, as the table has it"},
                  {"work.uprating.factor_temperature", count(a.temperature), ""}};
    if (in_ground(place.laid)) {
        v.workings.push_back({"work.uprating.factor_soil", count(a.soil), ""});
    }
    v.workings.push_back({"work.uprating.factor_grouping", count(a.grouping), "runs and circuits beside"});
    if (a.harmonic < 1.0) {
        v.workings.push_back({"work.uprating.factor_harmonic", count(a.harmonic), ""});
    }
    v.workings.push_back(
        {"work.uprating.cable_carries", ampere(carries_A),
         cable.runs > 1 ? "runs × table × factors, uneven sharing taken off" : "table × factors"});
    if (carries_A < current_A) {
        fails(v, say("because.uprating.cable_small", places), say("action.uprating.larger_cable"));
    } else if (current_A > kMarginalShare * carries_A) {
        marginal(v, say("because.uprating.cable_near", places), say("action.uprating.larger_cable"));
    }
    if (cable.runs > 1) {
        v.cautions.push_back(say("caution.uprating.runs"));
    }
    v.cautions.push_back(say("caution.uprating.cleat"));
    return v;
}

Outcome neutral_check(const Cable& cable, const CablePlace& place, double line_A, double neutral_A,
                      double uneven_percent, const model::LimitSet& set) {
    constexpr std::string_view kNeutral = "uprating.neutral";
    if (!within(line_A, 0.0, 20'000.0) || !within(neutral_A, 0.0, 60'000.0)) {
        return refuse(kNeutral, say("no.uprating.cable"));
    }
    const auto found = ampacity(place, cable.area_mm2, cable.runs, set);
    if (const auto* none = std::get_if<NoVerdict>(&found)) {
        return refuse(kNeutral, none->why);
    }
    const double harmonic_A = 3.0 * place.third_harmonic_percent / 100.0 * line_A;
    const double decides_A = std::max(neutral_A, harmonic_A);
    const double carries_A = *cable_carries_A(cable, place, uneven_percent, set);
    const Places places = {{"neutral", ampere(decides_A)}, {"carries", ampere(carries_A)}};
    model::Verdict v =
        passes(kNeutral, std::get<Ampacity>(found).source, say("because.uprating.neutral", places));
    v.workings = {{"work.uprating.neutral_horizon", ampere(neutral_A), ""},
                  {"work.uprating.neutral_harmonic", ampere(harmonic_A), "3 × h3 × line current"},
                  {"work.uprating.cable_carries", ampere(carries_A), ""}};
    if (carries_A < decides_A) {
        fails(v, say("because.uprating.neutral_small", places), say("action.uprating.larger_neutral"));
    } else if (decides_A > kMarginalShare * carries_A) {
        marginal(v, say("because.uprating.neutral_near", places), say("action.uprating.balance"));
    }
    return v;
}

} // namespace crossarm::rules
