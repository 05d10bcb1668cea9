// Water in the oil: correction, saturation, grades.
#include "checklist/rules/oil_water.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <cmath>
#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using rules::WaterReadings;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

struct Sets {
    model::LimitSet limits = shipped_limits("iec60422-2013-c");
    model::LimitSet correction = shipped_limits("iec60422-water-correction");
    model::LimitSet solubility = shipped_limits("water-solubility-1");
    model::LimitSet saturation = shipped_limits("oil-saturation");
    [[nodiscard]] rules::WaterLimits all() const { return {limits, correction, solubility, saturation}; }
};

} // namespace

TEST_CASE("water is corrected to 20 °C by the standard's formula") {
    // IEC 60422:2005/2013 cl. 5.3, f = 2.24 exp(-0.04 t), from memory; figures derived, to four decimals.
    const auto correction = shipped_limits("iec60422-water-correction");
    for (const auto& [oil_C, factor] :
         {std::pair(30.0, 0.6747), std::pair(40.0, 0.4522), std::pair(50.0, 0.3032), std::pair(60.0, 0.2032),
          std::pair(70.0, 0.1362)}) {
        const auto f = rules::factor_to_20(oil_C, correction);
        REQUIRE(f);
        CHECK(std::abs(*f - factor) < 0.0001);
    }
    // The formula alone gives 1.0065 at 20 °C; a factor above 1 would be wrong, so it is cut there.
    CHECK(rules::factor_to_20(20.0, correction) == 1.0);
    CHECK_FALSE(rules::factor_to_20(19.9, correction));
    CHECK_FALSE(rules::factor_to_20(std::nan(""), correction));
    struct Row {
        double sampled, oil_C, at_20;
    };
    for (const auto& row : {Row{20, 40, 9.04}, Row{20, 60, 4.06}, Row{15, 60, 3.05}, Row{40, 50, 12.13}}) {
        CHECK(std::abs(row.sampled * *rules::factor_to_20(row.oil_C, correction) - row.at_20) < 0.01);
    }
}

TEST_CASE("solubility and relative saturation come out as published coefficients give them") {
    // Coefficients from memory: Oommen 7.42 and 1670, Griffin / IEC 60814 annex 7.0895 and 1567; figures
    // derived, to the last place given.
    struct Row {
        double oil_C, first, second, tolerance;
    };
    const auto first = shipped_limits("water-solubility-1");
    const auto second = shipped_limits("water-solubility-2");
    for (const auto& row :
         {Row{20, 52.88, 55.48, 0.01}, Row{30, 81.50, 83.26, 0.01}, Row{40, 122.2, 121.8, 0.1},
          Row{50, 178.7, 173.9, 0.1}, Row{60, 255.4, 243.2, 0.1}}) {
        INFO(row.oil_C);
        CHECK(std::abs(*rules::saturation_mg_kg(row.oil_C, first) - row.first) < row.tolerance);
        CHECK(std::abs(*rules::saturation_mg_kg(row.oil_C, second) - row.second) < row.tolerance);
    }
    struct Wet {
        double water, oil_C, first, second;
    };
    for (const auto& row : {Wet{20, 20, 37.8, 36.1}, Wet{20, 40, 16.4, 16.4}, Wet{20, 60, 7.8, 8.2},
                            Wet{35, 30, 42.9, 42.0}, Wet{40, 50, 22.4, 23.0}}) {
        CHECK(std::abs(100 * row.water / *rules::saturation_mg_kg(row.oil_C, first) - row.first) < 0.06);
        CHECK(std::abs(100 * row.water / *rules::saturation_mg_kg(row.oil_C, second) - row.second) < 0.06);
    }
}

TEST_CASE("correction and solubility agree with each other") {
    // Scaling at constant saturation from t to 20 °C lies within 5 % of the correction factor; derived.
    const auto correction = shipped_limits("iec60422-water-correction");
    const auto solubility = shipped_limits("water-solubility-1");
    for (const auto& [oil_C, scaled] :
         {std::pair(30.0, 0.649), std::pair(40.0, 0.433), std::pair(50.0, 0.296), std::pair(60.0, 0.207)}) {
        const double ours =
            *rules::saturation_mg_kg(20.0, solubility) / *rules::saturation_mg_kg(oil_C, solubility);
        CHECK(std::abs(ours - scaled) < 0.001);
        CHECK(std::abs(ours / *rules::factor_to_20(oil_C, correction) - 1.0) < 0.05);
    }
}

TEST_CASE("each edition's water limit is used with the figure it was written for") {
    Sets sets;
    // 40 mg/kg at 50 °C: fair by the 2013 row as sampled (30 to 40), good is below 10 by the 2005 row at 20
    // °C: 12.13. Both rows from memory. Mixing them would give poor (40 > 25) or good (12.13 < 30).
    const auto by_2013 = verdict_in(rules::water({40, 50}, sets.all()));
    CHECK(by_2013.grade == Grade::Watch);
    sets.limits = shipped_limits("iec60422-2005-c");
    const auto by_2005 = verdict_in(rules::water({40, 50}, sets.all()));
    CHECK(by_2005.grade == Grade::Watch);
    CHECK(std::abs(tests::working(by_2005, "work.oil.water_at_20") - 12.13) < 0.01);
    // 20 mg/kg at 60 °C: 4.06 at 20 °C is good by 2005; taken as sampled it would be fair.
    CHECK(verdict_in(rules::water({20, 60}, sets.all())).grade == Grade::Sound);

    sets.limits.limits.push_back(shipped_limits("iec60422-2013-c").limits[2]);
    CHECK(refusal_in(rules::water({40, 50}, sets.all())) == "oil.no_limit"); // both kinds in one set
}

TEST_CASE("water grades at the borders of the published rows") {
    Sets sets;
    struct Row {
        const char* set;
        double water, oil_C;
        Grade grade;
    };
    // Hot oil, so that saturation does not decide. From memory.
    for (const auto& row :
         {Row{"iec60422-2013-c", 29.9, 60, Grade::Sound}, Row{"iec60422-2013-c", 30, 60, Grade::Watch},
          Row{"iec60422-2013-c", 40, 60, Grade::Watch}, Row{"iec60422-2013-c", 40.1, 60, Grade::Repair},
          Row{"ieee-c57-106-service", 35, 60, Grade::Sound},
          Row{"ieee-c57-106-service", 35.1, 60, Grade::Repair},
          Row{"ieee-c57-106-before-energising", 20, 60, Grade::Sound},
          Row{"ieee-c57-106-before-energising", 20.1, 60, Grade::Repair},
          Row{"iec60422-2013-before-energising", 19.9, 60, Grade::Sound},
          Row{"iec60422-2013-before-energising", 20, 60, Grade::Repair},
          // New oil in bulk; second hand.
          Row{"is335-2018-delivered", 30, 60, Grade::Sound},
          Row{"is335-2018-delivered", 30.1, 60, Grade::Repair},
          Row{"iec60296-2012-delivered", 30, 60, Grade::Sound},
          Row{"iec60296-2012-delivered", 30.1, 60, Grade::Repair},
          Row{"is335-1993-delivered", 50, 60, Grade::Sound},
          Row{"is335-1993-delivered", 50.1, 60, Grade::Repair}}) {
        sets.limits = shipped_limits(row.set);
        INFO(row.set << " " << row.water);
        CHECK(verdict_in(rules::water({row.water, row.oil_C}, sets.all())).grade == row.grade);
    }
}

TEST_CASE("cold oil near saturation is wet although its figure is low") {
    // 20 mg/kg at 20 °C is 37.8 % of saturation: extremely wet above 30 %, IEC 60422:2013 Annex A, from
    // memory.
    const Sets sets;
    const auto said = verdict_in(rules::water({20, 20}, sets.all()));
    CHECK(said.grade == Grade::Repair);
    CHECK(said.source.set == "oil-saturation");
    CHECK(verdict_in(rules::water({5, 60, true}, sets.all())).grade == Grade::Repair);
}

TEST_CASE("impossible water gives no verdict, and more water is never graded better") {
    Sets sets;
    for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(), -1.0, 501.0}) {
        CHECK(refusal_in(rules::water({bad, 40}, sets.all())) == "oil.water.impossible");
    }
    for (const double bad : {std::nan(""), -21.0, 111.0}) {
        CHECK(refusal_in(rules::water({20, bad}, sets.all())) == "oil.water.impossible");
    }
    std::mt19937 random(60814);
    std::uniform_real_distribution<double> mg(0.0, 100.0);
    std::uniform_real_distribution<double> warm(20.0, 90.0);
    for (const char* id : {"iec60422-2013-c", "iec60422-2005-c", "ieee-c57-106-service"}) {
        sets.limits = shipped_limits(id);
        for (int i = 0; i < 1000; ++i) {
            const double oil_C = warm(random);
            const double a = mg(random);
            const double b = mg(random);
            const auto less = std::get<model::Verdict>(rules::water({std::min(a, b), oil_C}, sets.all()));
            const auto more = std::get<model::Verdict>(rules::water({std::max(a, b), oil_C}, sets.all()));
            CHECK(more.grade >= less.grade);
        }
    }
    sets.limits = shipped_limits("iec60422-2005-c");
    CHECK(refusal_in(rules::water({20, 10}, sets.all())) == "oil.water.no_correction");
}
