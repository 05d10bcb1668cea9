// Breakdown voltage: shots, mean, scatter, grades.
#include "checklist/rules/oil_breakdown.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using rules::breakdown;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

std::vector<double> six_of(double kV) {
    return std::vector<double>(6, kV);
}

} // namespace

TEST_CASE("mean and scatter of six shots are worked out with the sample deviation") {
    // Arithmetic checks, derived, given to three decimals; one unit of the last place for their rounding.
    struct Row {
        std::vector<double> shots_kV;
        double mean_kV, deviation_kV, scatter;
    };
    const std::vector<Row> rows = {
        {{52, 48, 55, 47, 50, 49}, 50.167, 2.927, 0.0583},
        {{28, 34, 31, 25, 30, 33}, 30.167, 3.312, 0.1098},
        {{62, 41, 70, 38, 55, 66}, 55.333, 13.262, 0.2397},
    };
    for (const auto& row : rows) {
        const auto set = rules::work_out(row.shots_kV);
        REQUIRE(set);
        CHECK(std::abs(set->mean_kV - row.mean_kV) < 0.001);
        CHECK(std::abs(set->deviation_kV - row.deviation_kV) < 0.001);
        CHECK(std::abs(set->scatter - row.scatter) < 0.00005);
    }
}

TEST_CASE("the mean decides, not the lowest shot") {
    const auto outcome = breakdown({{28, 34, 31, 25, 30, 33}, 24.0}, shipped_limits("iec60422-2013-c"),
                                   shipped_limits("six-shots"));
    CHECK(verdict_in(outcome).grade == Grade::Watch);
    CHECK(verdict_in(outcome).source.set == "iec60422-2013-c");
    CHECK(verdict_in(outcome).source.sure == "from memory");
}

TEST_CASE("a set that scatters too much asks for a new set and is never Sound") {
    const auto outcome = breakdown({{62, 41, 70, 38, 55, 66}, {}}, shipped_limits("iec60422-2013-c"),
                                   shipped_limits("six-shots"));
    CHECK(verdict_in(outcome).grade == Grade::Watch);
    CHECK(verdict_in(outcome).action.key == "oil.breakdown.action.retest");
    CHECK(verdict_in(outcome).source.set == "six-shots");

    const auto weak = breakdown({{10, 30, 8, 28, 12, 25}, {}}, shipped_limits("iec60422-2013-c"),
                                shipped_limits("six-shots"));
    CHECK(verdict_in(weak).grade == Grade::Repair);
    CHECK(verdict_in(weak).action.key == "oil.breakdown.action.retest");
}

TEST_CASE("without a scatter rule the set is graded by its mean alone") {
    auto shots = shipped_limits("six-shots");
    std::erase_if(shots.limits, [](const auto& limit) { return limit.name == "shots.scatter_above"; });
    const auto outcome = breakdown({{62, 41, 70, 38, 55, 66}, {}}, shipped_limits("iec60422-2013-c"), shots);
    CHECK(verdict_in(outcome).grade == Grade::Sound);
}

TEST_CASE("each limit set grades on its own side of its limits") {
    struct Row {
        const char* set;
        double kV;
        Grade grade;
    };
    const std::vector<Row> rows = {
        // IEC 60422:2013 Table 5 category C: good > 40, fair 30 to 40, poor < 30 kV; from memory.
        {"iec60422-2013-c", 40.1, Grade::Sound},
        {"iec60422-2013-c", 40.0, Grade::Watch},
        {"iec60422-2013-c", 30.0, Grade::Watch},
        {"iec60422-2013-c", 29.9, Grade::Repair},
        // IS 1866:2000, below 72.5 kV: at least 30 kV; from memory.
        {"is1866-2000", 30.0, Grade::Sound},
        {"is1866-2000", 29.9, Grade::Repair},
        // Wanted at 40 kV or better: common practice, no source.
        {"oil-practice-40kv", 40.0, Grade::Sound},
        {"oil-practice-40kv", 39.9, Grade::Repair},
        // IS 335:2018, new oil: 30 kV delivered, 70 kV treated; second hand (a refiner's product page).
        {"is335-2018-delivered", 30.0, Grade::Sound},
        {"is335-2018-delivered", 29.9, Grade::Repair},
        {"is335-2018-treated", 70.0, Grade::Sound},
        {"is335-2018-treated", 69.9, Grade::Repair},
        // IEC 60296:2012, general: 30 and 70 kV; second hand (a refiner's specification sheet).
        {"iec60296-2012-delivered", 30.0, Grade::Sound},
        {"iec60296-2012-treated", 69.9, Grade::Repair},
        // IS 335:1993: 60 kV after filtration; second hand.
        {"is335-1993-treated", 60.0, Grade::Sound},
        {"is335-1993-treated", 59.9, Grade::Repair},
        // IEC 60422:2013 Table 3, up to 72.5 kV: more than 55 kV; from memory.
        {"iec60422-2013-before-energising", 55.1, Grade::Sound},
        {"iec60422-2013-before-energising", 55.0, Grade::Repair},
    };
    const auto shots = shipped_limits("six-shots");
    for (const auto& row : rows) {
        INFO(row.set << " at " << row.kV << " kV");
        CHECK(verdict_in(breakdown({six_of(row.kV), {}}, shipped_limits(row.set), shots)).grade == row.grade);
    }
}

TEST_CASE("sets with other test methods or without the figure give no verdict") {
    // ASTM D1816 figures are no IEC 60156 figures.
    const auto shots = shipped_limits("six-shots");
    CHECK(refusal_in(breakdown({six_of(50), {}}, shipped_limits("ieee-c57-106-service"), shots)) ==
          "oil.no_limit");
    CHECK(refusal_in(breakdown({six_of(50), {}}, shipped_limits("iec60422-2005-c"), shots)) ==
          "oil.no_limit");
    CHECK(refusal_in(breakdown({six_of(50), {}}, shipped_limits("iec60422-2013-c"), model::LimitSet{})) ==
          "oil.no_limit");
}

TEST_CASE("a set of another size is refused") {
    // IEC 60156:1995 cl. 9.3: six breakdowns on the same filling.
    for (const std::size_t count : {0U, 1U, 5U, 7U}) {
        CHECK(refusal_in(breakdown({std::vector<double>(count, 50.0), {}}, shipped_limits("iec60422-2013-c"),
                                   shipped_limits("six-shots"))) == "oil.breakdown.wrong_number");
    }
}

TEST_CASE("impossible shots and temperatures give no verdict") {
    const auto limits = shipped_limits("iec60422-2013-c");
    const auto shots = shipped_limits("six-shots");
    for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(),
                             -std::numeric_limits<double>::infinity(), -5.0, 0.0, 0.99, 100.01, 1e300}) {
        for (std::size_t at = 0; at < 6; ++at) {
            auto readings = six_of(50.0);
            readings[at] = bad;
            CHECK(refusal_in(breakdown({readings, {}}, limits, shots)) == "oil.breakdown.impossible");
        }
    }
    for (const double bad : {std::nan(""), -21.0, 111.0}) {
        CHECK(refusal_in(breakdown({six_of(50.0), bad}, limits, shots)) == "oil.temperature_impossible");
    }
}

TEST_CASE("a set weaker in every shot is never graded better") {
    std::mt19937 random(60156);
    std::uniform_real_distribution<double> kV(5.0, 90.0);
    std::uniform_real_distribution<double> share(0.2, 1.0);
    const auto shots = shipped_limits("six-shots");
    for (const char* id : {"iec60422-2013-c", "is1866-2000", "oil-practice-40kv"}) {
        const auto limits = shipped_limits(id);
        for (int i = 0; i < 500; ++i) {
            std::vector<double> good;
            for (int shot = 0; shot < 6; ++shot) {
                good.push_back(kV(random));
            }
            // The same share off every shot keeps the scatter as it is.
            auto bad = good;
            const double by = share(random);
            for (double& shot : bad) {
                shot = std::max(1.0, shot * by);
            }
            if (*std::min_element(bad.begin(), bad.end()) == 1.0) {
                continue;
            }
            CHECK(verdict_in(breakdown({bad, {}}, limits, shots)).grade >=
                  verdict_in(breakdown({good, {}}, limits, shots)).grade);
        }
    }
}

TEST_CASE("every sentence of a breakdown verdict has its words and its places filled") {
    const auto shots = shipped_limits("six-shots");
    for (const auto& readings :
         {six_of(55), six_of(35), six_of(20), std::vector<double>{62, 41, 70, 38, 55, 66}}) {
        const auto outcome = breakdown({readings, 20.0}, shipped_limits("iec60422-2013-c"), shots);
        (void)verdict_in(outcome);
    }
}
