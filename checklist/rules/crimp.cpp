#include "checklist/rules/crimp.hpp"

#include "checklist/rules/answer.hpp"

#include <cmath>

namespace crossarm::rules {
namespace {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;

bool copper(Metal metal) {
    return metal == Metal::Copper || metal == Metal::TinnedCopper;
}
/// Metal of the part that is pressed.
bool copper_barrel(Metal lug) {
    return copper(lug);
}
/// Metal of the part that is bolted.
bool copper_palm(Metal lug) {
    return copper(lug) || lug == Metal::Bimetal;
}

Verdict wrong(Verdict v, const char* because, Places places, const char* action) {
    grade_as(v, Grade::Danger, model::When::BeforeSupplyReturns, say(because, std::move(places)),
             say(action));
    return v;
}

} // namespace

Outcome crimp(const CrimpReadings& r, const model::LimitSet& dies) {
    constexpr std::string_view kSubject = "joint.crimp";
    if (!within(r.cable_mm2, 1.5, 1000.0) || !within(r.lug_mm2, 1.5, 1000.0)) {
        return refuse(kSubject, say("no.crimp.size"));
    }
    if (r.die_code < 1 || r.die_code > 99 || r.cable == Metal::Bimetal) {
        return refuse(kSubject, say("no.crimp.die"));
    }
    Needs needs(dies);
    const model::LimitTable* table = needs.table(copper_barrel(r.lug) ? "die_copper" : "die_aluminium");
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const model::LimitRow* row = row_of(*table, model::number_for_people(r.lug_mm2));
    const auto in_table = row != nullptr ? cell(*table, *row, "code", Unit::One) : std::nullopt;
    if (!r.lug_code && !in_table) {
        return refuse(kSubject, say("no.crimp.code"));
    }
    const int wanted = r.lug_code ? *r.lug_code : static_cast<int>(std::lround(*in_table));

    Verdict v;
    v.subject = kSubject;
    v.source = row != nullptr ? source_of(dies, *table, *row)
                              : model::Source{dies.id, dies.title, table->clause, "common practice"};
    if (r.lug_code) {
        v.source.clause = "code on lug = code on die = code pressed";
        v.source.sure = "read";
    }
    v.workings = {{"work.crimp.cable", {r.cable_mm2, Unit::SquareMillimetre}, ""},
                  {"work.crimp.lug", {r.lug_mm2, Unit::SquareMillimetre}, ""},
                  {"work.crimp.wanted", {static_cast<double>(wanted), Unit::One}, ""},
                  {"work.crimp.die", {static_cast<double>(r.die_code), Unit::One}, ""}};
    v.cautions = {say("caution.crimp.clean")};
    const Places codes = {{"die", std::to_string(r.die_code)}, {"wanted", std::to_string(wanted)}};
    if (r.lug_mm2 != r.cable_mm2) {
        return wrong(v, "because.crimp.size",
                     {{"lug", Quantity{r.lug_mm2, Unit::SquareMillimetre}},
                      {"cable", Quantity{r.cable_mm2, Unit::SquareMillimetre}}},
                     "action.crimp.new_lug");
    }
    if (copper_barrel(r.lug) != copper(r.cable)) {
        return wrong(v, "because.crimp.barrel", {}, "action.crimp.new_lug");
    }
    if (r.die_code != wanted) {
        return wrong(v, "because.crimp.die", codes, "action.crimp.new_lug");
    }
    if (r.pressed_code && *r.pressed_code != wanted) {
        return wrong(v, "because.crimp.pressed",
                     {{"pressed", std::to_string(*r.pressed_code)}, {"wanted", std::to_string(wanted)}},
                     "action.crimp.new_lug");
    }
    if (copper_palm(r.lug) != copper(r.landing)) {
        grade_as(v, Grade::Repair, model::When::Within30Days, say("because.crimp.metals"),
                 say("action.crimp.transition"));
        v.cautions.push_back(say("caution.crimp.dry"));
        return v;
    }
    v.because = say("because.crimp.fits", codes);
    return v;
}

} // namespace crossarm::rules
