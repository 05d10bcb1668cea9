// Insulation resistance: correction, minima, absorption.
#include "checklist/rules/insulation.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <cmath>
#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using rules::InsulationReadings;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

struct Sets {
    model::LimitSet minimum = shipped_limits("ir-minimum-neta");
    model::LimitSet floor = shipped_limits("ir-floor");
    model::LimitSet correction = shipped_limits("ir-correction-oil");
    [[nodiscard]] rules::InsulationLimits all() const { return {minimum, floor, correction}; }
};

InsulationReadings at_60s(double winding_kV, double oil_C, double MOhm) {
    return {winding_kV, 100, oil_C, MOhm, {}, {}, {}};
}

} // namespace

TEST_CASE("resistance is brought to 20 °C by the published table") {
    const auto correction = shipped_limits("ir-correction-oil");
    // A maker's published table for oil-filled transformers and its worked example: 1 200 MΩ at 35 °C are
    // 3 360 MΩ at 20 °C. Exact.
    CHECK(1200.0 * *rules::factor_to_20_C(35, correction) == Approx(3360.0));
    struct Row {
        double oil_C, factor;
    };
    for (const auto& row :
         {Row{0, 0.25}, Row{5, 0.36}, Row{10, 0.50}, Row{15, 0.74}, Row{20, 1.00}, Row{25, 1.40},
          Row{30, 1.98}, Row{35, 2.80}, Row{40, 3.95}, Row{45, 5.60}, Row{50, 7.85}, Row{55, 11.20},
          Row{60, 15.85}, Row{65, 22.40}, Row{70, 31.75}, Row{75, 44.70}}) {
        CHECK(rules::factor_to_20_C(row.oil_C, correction) == row.factor);
        // Doubling every 10 K, within 2 % but for 15 °C (4.7 %); derived.
        const double rule = std::pow(2.0, (row.oil_C - 20.0) / 10.0);
        CHECK(std::abs(row.factor / rule - 1.0) < (row.oil_C == 15 ? 0.048 : 0.02));
    }
    CHECK(rules::factor_to_20_C(-10, correction) == 0.125); // NETA, from memory
    CHECK(rules::factor_to_20_C(-5, correction) == 0.18);   // NETA, from memory
    // The rotating-machine formula has its base at 40 °C and would give 1 there.
    CHECK(*rules::factor_to_20_C(40, correction) > 3.9);
    double last = 0.0;
    for (int tenth = -100; tenth <= 750; ++tenth) {
        const auto factor = rules::factor_to_20_C(tenth / 10.0, correction);
        REQUIRE(factor);
        CHECK(*factor > last);
        last = *factor;
    }
    CHECK_FALSE(rules::factor_to_20_C(-10.1, correction));
    CHECK_FALSE(rules::factor_to_20_C(75.1, correction));
    CHECK_FALSE(rules::factor_to_20_C(std::nan(""), correction));
}

TEST_CASE("published minima by winding stand side by side") {
    struct Row {
        const char* set;
        double winding_kV, rating_kVA, oil_C, MOhm, tolerance;
    };
    const std::vector<Row> rows = {
        // NETA MTS Table 100.5, liquid-filled; from memory.
        {"ir-minimum-neta", 0.433, 100, 20, 100, 0},
        {"ir-minimum-neta", 0.6, 100, 20, 100, 0},
        {"ir-minimum-neta", 3.3, 100, 20, 1000, 0},
        {"ir-minimum-neta", 5.0, 100, 20, 1000, 0},
        {"ir-minimum-neta", 11, 100, 20, 5000, 0},
        // Indian textbook, least safe values at the temperature of the test; read.
        {"ir-minimum-textbook", 0.433, 100, 30, 200, 0},
        {"ir-minimum-textbook", 0.433, 100, 60, 25, 0},
        {"ir-minimum-textbook", 0.433, 100, 40, 100, 0},
        {"ir-minimum-textbook", 0.433, 100, 50, 50, 1e-9},
        {"ir-minimum-textbook", 6.6, 100, 30, 400, 0},
        {"ir-minimum-textbook", 6.6, 100, 40, 200, 0},
        {"ir-minimum-textbook", 6.6, 100, 50, 100, 1e-9},
        {"ir-minimum-textbook", 6.6, 100, 60, 50, 1e-9},
        {"ir-minimum-textbook", 11, 100, 30, 400, 0},
        {"ir-minimum-textbook", 11, 100, 40, 200, 0},
        {"ir-minimum-textbook", 11, 100, 50, 100, 0},
        {"ir-minimum-textbook", 11, 100, 60, 50, 1e-9},
        {"ir-minimum-textbook", 22, 100, 40, 250, 0},
        {"ir-minimum-textbook", 22, 100, 30, 500, 0},
        {"ir-minimum-textbook", 33, 100, 50, 125, 1e-9},
        {"ir-minimum-textbook", 33, 100, 60, 65, 1e-9},
        // Handbook 1.5 E / √kVA, from memory; figures derived, to whole MΩ.
        {"ir-minimum-handbook", 11, 100, 20, 1650, 0.5},
        {"ir-minimum-handbook", 11, 63, 20, 2079, 0.5},
        {"ir-minimum-handbook", 11, 200, 20, 1167, 0.5},
        {"ir-minimum-handbook", 0.433, 100, 20, 65, 0.5},
        // Floor kV + 1; read.
        {"ir-floor", 11, 100, 20, 12, 0},
        {"ir-floor", 0.433, 100, 20, 1.43, 0.005},
    };
    for (const auto& row : rows) {
        INFO(row.set << " " << row.winding_kV << " kV " << row.rating_kVA << " kVA " << row.oil_C << " °C");
        const auto least = rules::minimum_for({row.winding_kV, row.rating_kVA, row.oil_C, 1000, {}, {}, {}},
                                              shipped_limits(row.set));
        REQUIRE(least);
        CHECK(std::abs(least->least_MOhm - row.MOhm) <= row.tolerance);
    }
    CHECK_FALSE(rules::minimum_for(at_60s(11, 29.9, 1000), shipped_limits("ir-minimum-textbook")));
    CHECK_FALSE(rules::minimum_for(at_60s(35, 40, 1000), shipped_limits("ir-minimum-textbook")));
    CHECK_FALSE(rules::minimum_for({11, 0, 20, 1000, {}, {}, {}}, shipped_limits("ir-minimum-handbook")));
}

TEST_CASE("the corrected value decides, and the floor stops supply") {
    Sets sets;
    // 1 800 MΩ at 35 °C are 5 040 MΩ at 20 °C: enough for 5 000 MΩ. 1 780 MΩ are not.
    CHECK(verdict_in(rules::insulation(at_60s(11, 35, 1800), sets.all())).grade == Grade::Sound);
    CHECK(verdict_in(rules::insulation(at_60s(11, 35, 1780), sets.all())).grade == Grade::Repair);
    CHECK(verdict_in(rules::insulation(at_60s(11, 20, 12), sets.all())).grade == Grade::Repair);
    const auto dead = verdict_in(rules::insulation(at_60s(11, 20, 11.9), sets.all()));
    CHECK(dead.grade == Grade::Danger);
    CHECK(dead.source.set == "ir-floor");
    CHECK(verdict_in(rules::insulation(at_60s(11, 20, 0), sets.all())).grade == Grade::Danger);
    // The textbook's values hold at the temperature of the test, uncorrected.
    sets.minimum = shipped_limits("ir-minimum-textbook");
    CHECK(verdict_in(rules::insulation(at_60s(11, 40, 200), sets.all())).grade == Grade::Sound);
    CHECK(verdict_in(rules::insulation(at_60s(11, 40, 199), sets.all())).grade == Grade::Repair);
    CHECK(refusal_in(rules::insulation(at_60s(11, 20, 5000), sets.all())) == "insulation.no_limit");
}

TEST_CASE("the index is graded by the chosen set and not at all where it means nothing") {
    const auto graded = [](const char* set, double at_60s_MOhm, double at_600s_MOhm) {
        return rules::absorption({11, 100, 30, at_60s_MOhm, {}, {}, at_600s_MOhm}, shipped_limits(set));
    };
    struct Row {
        const char* set;
        double index;
        Grade grade;
    };
    for (const auto& row : {
             Row{"absorption-1-neta", 1.0, Grade::Sound}, // NETA: not less than 1.0; second hand
             Row{"absorption-1-neta", 0.99, Grade::Repair},
             Row{"absorption-2-bands", 2.0, Grade::Sound}, // bands of an encyclopaedia; read
             Row{"absorption-2-bands", 1.99, Grade::Watch},
             Row{"absorption-2-bands", 1.5, Grade::Watch},
             Row{"absorption-2-bands", 1.49, Grade::Repair},
             Row{"absorption-2-bands", 1.0, Grade::Repair},
             Row{"absorption-2-bands", 0.99, Grade::Danger},
             Row{"absorption-3-older", 1.25, Grade::Sound}, // older transformer bands; from memory
             Row{"absorption-3-older", 1.24, Grade::Watch},
             Row{"absorption-3-older", 1.09, Grade::Repair},
             Row{"absorption-3-older", 0.99, Grade::Danger},
         }) {
        INFO(row.set << " " << row.index);
        CHECK(verdict_in(graded(row.set, 1000, 1000 * row.index)).grade == row.grade);
    }
    // IEEE 43: not meaningful above 5 GΩ at one minute; second hand.
    CHECK(refusal_in(graded("absorption-2-bands", 5001, 5001)) == "insulation.too_good");
    CHECK(verdict_in(graded("absorption-2-bands", 5000, 10'000)).grade == Grade::Sound);
    CHECK(refusal_in(graded("absorption-2-bands", 0, 100)) == "insulation.no_ratio");
    CHECK(refusal_in(rules::absorption(at_60s(11, 30, 1000), shipped_limits("absorption-2-bands"))) ==
          "insulation.no_ratio");
    // A value at 15 s makes no ratio that these bands were made for.
    CHECK(refusal_in(rules::absorption({11, 100, 30, 1000, 500.0, {}, {}},
                                       shipped_limits("absorption-2-bands"))) == "insulation.no_ratio");
    // Absorption ratio 60 s / 15 s, 1.3 in national test codes, and no ratio above 3 GΩ; from memory.
    const auto short_ratio = shipped_limits("absorption-4-short");
    CHECK(verdict_in(rules::absorption({11, 100, 30, 1300, 1000.0, {}, {}}, short_ratio)).grade ==
          Grade::Sound);
    CHECK(verdict_in(rules::absorption({11, 100, 30, 1290, 1000.0, {}, {}}, short_ratio)).grade ==
          Grade::Watch);
    CHECK(refusal_in(rules::absorption({11, 100, 30, 3001, 1000.0, {}, {}}, short_ratio)) ==
          "insulation.too_good");
    // Absorption ratio 60 s / 30 s; from memory.
    CHECK(verdict_in(
              rules::absorption({11, 100, 30, 1240, {}, 1000.0, {}}, shipped_limits("absorption-2-bands")))
              .grade == Grade::Watch);
}

TEST_CASE("impossible insulation gives no verdict, and less resistance is never graded better") {
    Sets sets;
    const auto bands = shipped_limits("absorption-2-bands");
    for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(), -200.0, 1e9}) {
        for (auto member : {&InsulationReadings::winding_kV, &InsulationReadings::oil_C,
                            &InsulationReadings::at_60s_MOhm}) {
            auto r = at_60s(11, 30, 1000);
            r.*member = bad;
            CHECK(refusal_in(rules::insulation(r, sets.all())) == "insulation.impossible");
            CHECK(refusal_in(rules::absorption(r, bands)) == "insulation.impossible");
        }
        auto r = at_60s(11, 30, 1000);
        r.at_600s_MOhm = bad;
        CHECK(refusal_in(rules::absorption(r, bands)) == "insulation.impossible");
    }
    std::mt19937 random(1005);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    for (const char* id : {"ir-minimum-neta", "ir-minimum-textbook", "ir-minimum-handbook"}) {
        sets.minimum = shipped_limits(id);
        for (int i = 0; i < 1000; ++i) {
            const auto good = at_60s(share(random) < 0.5 ? 0.433 : 11, 30 + 30 * share(random),
                                     std::pow(10.0, 5 * share(random)));
            auto bad = good;
            bad.at_60s_MOhm *= share(random);
            CHECK(std::get<model::Verdict>(rules::insulation(bad, sets.all())).grade >=
                  std::get<model::Verdict>(rules::insulation(good, sets.all())).grade);
        }
    }
}
