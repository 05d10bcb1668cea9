// One decision about the oil.
#include "checklist/rules/oil_decision.hpp"

#include "checklist/rules/oil_breakdown.hpp"
#include "checklist/rules/oil_gases.hpp"
#include "checklist/rules/oil_quality.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

using namespace crossarm;
using model::Grade;
using rules::OilDecision;
using rules::OilFindings;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

/// A test that came out at `grade`, with sentences and a source that exist.
model::Verdict at(Grade grade) {
    model::Verdict verdict;
    verdict.subject = "oil.acidity";
    verdict.grade = grade;
    verdict.because = {"oil.look.dark", {}};
    verdict.source = {"iec60422-2013-c", "IEC 60422:2013, category C", "Table 5", "from memory"};
    return verdict;
}

bool warns(const model::Verdict& verdict, std::string_view key) {
    return std::any_of(verdict.cautions.begin(), verdict.cautions.end(),
                       [&](const model::Phrase& caution) { return caution.key == key; });
}

} // namespace

TEST_CASE("dirt and water are dried out, ageing products reclaimed or replaced") {
    // The rule in published maintenance guides: low breakdown voltage is reconditioned (dried, filtered);
    // high acidity, high loss or low tension is reclaimed.
    const auto practice = shipped_limits("oil-decision-practice");
    OilFindings f;
    f.oil_litres = 150;
    f.breakdown = at(Grade::Repair);
    CHECK(rules::decide(f, practice) == OilDecision::DryByFiltering);
    f.water = at(Grade::Repair);
    CHECK(rules::decide(f, practice) == OilDecision::DryByFiltering);
    for (auto member : {&OilFindings::acidity, &OilFindings::loss_factor, &OilFindings::tension}) {
        OilFindings aged = f;
        aged.*member = at(Grade::Repair);
        CHECK(rules::decide(aged, practice) == OilDecision::Replace);
        aged.oil_litres = 1000;
        CHECK(rules::decide(aged, practice) == OilDecision::Reclaim);
        aged.oil_litres.reset();
        CHECK(rules::decide(aged, practice) == OilDecision::Replace);
    }
}

TEST_CASE("good oil is kept, doubtful oil tested again, arcing keeps the transformer off line") {
    const auto practice = shipped_limits("oil-decision-practice");
    OilFindings f;
    f.breakdown = at(Grade::Sound);
    f.water = at(Grade::Sound);
    CHECK(rules::decide(f, practice) == OilDecision::Keep);
    f.acidity = at(Grade::Watch);
    CHECK(rules::decide(f, practice) == OilDecision::Retest);
    f.acidity = at(Grade::Repair);
    f.gases = at(Grade::Danger);
    CHECK(rules::decide(f, practice) == OilDecision::OffLine);
    f.gases.reset();
    f.look = at(Grade::Danger);
    CHECK(rules::decide(f, practice) == OilDecision::OffLine);
}

TEST_CASE("a scattered set of shots is tested again before the oil is touched") {
    OilFindings f;
    f.breakdown = verdict_in(rules::breakdown(
        {{10, 30, 8, 28, 12, 25}, {}}, shipped_limits("iec60422-2013-c"), shipped_limits("six-shots")));
    const auto practice = shipped_limits("oil-decision-practice");
    CHECK(rules::decide(f, practice) == OilDecision::Retest);
    f.water = at(Grade::Repair); // water is there whatever the shots say
    CHECK(rules::decide(f, practice) == OilDecision::DryByFiltering);
}

TEST_CASE("litres to order: full volume with spare, or the loss by filtering") {
    const auto practice = shipped_limits("oil-decision-practice");
    OilFindings f;
    f.oil_litres = 152;
    f.pcb_mg_kg = 2;
    f.acidity = at(Grade::Repair);
    f.breakdown = at(Grade::Repair);
    // 152 L and 10 % are 167.2 L: 170 L in steps of 5 L; arithmetic on shares of common practice.
    auto said = verdict_in(rules::oil_decision(f, practice));
    CHECK(tests::working(said, "work.oil.order") == 170.0);
    CHECK_FALSE(warns(said, "oil.caution.pcb_unknown"));
    f.acidity.reset();
    said = verdict_in(rules::oil_decision(f, practice));
    CHECK(tests::working(said, "work.oil.order") == 10.0); // 5 % of 152 L is 7.6 L
    CHECK(warns(said, "oil.caution.one_test"));
    CHECK(warns(said, "oil.caution.work_dead"));
    f.oil_litres = 100.0; // exactly on a step: no step more
    f.acidity = at(Grade::Repair);
    CHECK(tests::working(verdict_in(rules::oil_decision(f, practice)), "work.oil.order") == 110.0);
    f.oil_litres.reset();
    CHECK(warns(verdict_in(rules::oil_decision(f, practice)), "oil.caution.volume_unknown"));
}

TEST_CASE("PCB unknown is treated as contaminated, hot oil and disposal are told") {
    const auto practice = shipped_limits("oil-decision-practice");
    OilFindings f;
    f.water = at(Grade::Repair);
    f.oil_C = 61;
    auto said = verdict_in(rules::oil_decision(f, practice));
    CHECK(warns(said, "oil.caution.pcb_unknown"));
    CHECK(warns(said, "oil.caution.hot"));
    CHECK(warns(said, "oil.caution.disposal"));
    // 50 mg/kg: 40 CFR 761 and the conventions; from memory.
    f.pcb_mg_kg = 49.9;
    f.oil_C = 60;
    said = verdict_in(rules::oil_decision(f, practice));
    CHECK_FALSE(warns(said, "oil.caution.pcb"));
    CHECK_FALSE(warns(said, "oil.caution.hot"));
    f.pcb_mg_kg = 50;
    CHECK(warns(verdict_in(rules::oil_decision(f, practice)), "oil.caution.pcb"));
}

TEST_CASE("nothing tested or impossible figures give no decision") {
    const auto practice = shipped_limits("oil-decision-practice");
    CHECK(refusal_in(rules::oil_decision({}, practice)) == "oil.decision.nothing_tested");
    OilFindings f;
    f.water = at(Grade::Sound);
    CHECK(refusal_in(rules::oil_decision(f, shipped_limits("six-shots"))) == "oil.no_limit");
    for (const double bad : {std::nan(""), -1.0, 1e9}) {
        OilFindings g = f;
        g.oil_litres = bad;
        CHECK(refusal_in(rules::oil_decision(g, practice)) == "oil.decision.impossible");
        g = f;
        g.pcb_mg_kg = bad;
        CHECK(refusal_in(rules::oil_decision(g, practice)) == "oil.decision.impossible");
        g = f;
        g.oil_C = bad < 0 ? -21.0 : bad;
        CHECK(refusal_in(rules::oil_decision(g, practice)) == "oil.decision.impossible");
    }
}

TEST_CASE("one worse test never makes the decision's grade better, nor a kept oil of a bad one") {
    const auto practice = shipped_limits("oil-decision-practice");
    std::mt19937 random(637);
    std::uniform_int_distribution<int> grade(-1, 3);
    using Member = std::optional<model::Verdict> OilFindings::*;
    const std::array<Member, 7> members = {
        &OilFindings::breakdown, &OilFindings::water, &OilFindings::acidity, &OilFindings::loss_factor,
        &OilFindings::tension,   &OilFindings::look,  &OilFindings::gases};
    for (int i = 0; i < 2000; ++i) {
        OilFindings f;
        f.water = at(Grade::Sound);
        for (const Member member : members) {
            const int g = grade(random);
            if (g >= 0) {
                f.*member = at(static_cast<Grade>(g));
            }
        }
        const auto before = std::get<model::Verdict>(rules::oil_decision(f, practice));
        const Member member = members[static_cast<std::size_t>(i) % members.size()];
        if (f.*member && (f.*member)->grade != Grade::Danger) {
            f.*member = at(static_cast<Grade>(static_cast<int>((f.*member)->grade) + 1));
        }
        const auto after = std::get<model::Verdict>(rules::oil_decision(f, practice));
        CHECK(after.grade >= before.grade);
        CHECK((rules::decide(f, practice) == OilDecision::Keep) == (after.grade == Grade::Sound));
    }
}
