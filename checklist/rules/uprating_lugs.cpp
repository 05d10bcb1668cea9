#include "checklist/rules/uprating_lugs.hpp"

#include "checklist/rules/uprating_check.hpp"

namespace crossarm::rules {
namespace {

using model::Unit;

constexpr int kCores = 4;
constexpr int kMostLugsOnAStud = 2;

const model::LimitTable* die_table(Metal metal, const model::LimitSet& dies) {
    return dies.table(metal == Metal::Aluminium ? "die_aluminium" : "die_copper");
}

} // namespace

std::optional<Lugs> choose_lugs(const Cable& cable, Metal metal, Metal landing, const model::LimitSet& dies) {
    const model::LimitTable* table = die_table(metal, dies);
    const model::LimitRow* row =
        table == nullptr ? nullptr : row_of(*table, model::number_for_people(cable.area_mm2));
    const auto code = row == nullptr ? std::nullopt : cell(*table, *row, "code", Unit::One);
    if (!code || cable.runs < 1 || cable.runs > 8) {
        return std::nullopt;
    }
    Lugs lugs;
    lugs.lug = metal != Metal::Aluminium     ? Metal::Copper
               : landing == Metal::Aluminium ? Metal::Aluminium
                                             : Metal::Bimetal;
    lugs.area_mm2 = cable.area_mm2;
    lugs.die_code = static_cast<int>(*code);
    lugs.on_bushings = kCores * cable.runs;
    lugs.on_breakers = kCores * cable.runs;
    return lugs;
}

Outcome lugs_check(const Cable& cable, Metal metal, Metal landing, const model::LimitSet& dies) {
    constexpr std::string_view kSubject = "uprating.lugs";
    const auto lugs = choose_lugs(cable, metal, landing, dies);
    if (!lugs) {
        return refuse(kSubject,
                      say("no.uprating.lugs", {{"size", square_mm(cable.area_mm2)}, {"set", dies.title}}));
    }
    const model::LimitTable& table = *die_table(metal, dies);
    const model::Source source =
        source_of(dies, table, *row_of(table, model::number_for_people(cable.area_mm2)));
    const bool from_memory = source.sure == "from memory";
    const Places places = {{"size", square_mm(cable.area_mm2)},
                           {"die", count(lugs->die_code)},
                           {"lugs", count(lugs->on_bushings + lugs->on_breakers)}};
    const bool bimetal = lugs->lug == Metal::Bimetal;
    model::Verdict v = passes(
        kSubject, source, say(bimetal ? "because.uprating.lugs_bimetal" : "because.uprating.lugs", places));
    v.workings = {
        {"work.uprating.die", count(lugs->die_code), ""},
        {"work.uprating.lugs", count(lugs->on_bushings + lugs->on_breakers), "4 cores × runs × 2 ends"}};
    if (cable.runs > kMostLugsOnAStud) {
        marginal(v, say("because.uprating.lugs_crowded", places), say("action.uprating.lug_bar"));
    } else if (from_memory) {
        marginal(v, v.because, say("action.uprating.check_die"));
    }
    return v;
}

} // namespace crossarm::rules
