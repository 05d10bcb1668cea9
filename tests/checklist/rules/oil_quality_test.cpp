// Ageing of the oil, its look, and the published index.
#include "checklist/rules/oil_quality.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <cmath>
#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

TEST_CASE("acidity, loss factor and tension grade at the borders of the published rows") {
    enum class Test { Acidity, LossFactor, Inhibited, Uninhibited, Unknown };
    struct Row {
        const char* set;
        Test test;
        double value;
        Grade grade;
    };
    using enum Test;
    const std::vector<Row> rows = {
        // IEC 60422:2013 Table 5 category C; from memory.
        {"iec60422-2013-c", Acidity, 0.149, Grade::Sound},
        {"iec60422-2013-c", Acidity, 0.15, Grade::Watch},
        {"iec60422-2013-c", Acidity, 0.30, Grade::Watch},
        {"iec60422-2013-c", Acidity, 0.301, Grade::Repair},
        {"iec60422-2013-c", LossFactor, 0.099, Grade::Sound},
        {"iec60422-2013-c", LossFactor, 0.10, Grade::Watch},
        {"iec60422-2013-c", LossFactor, 0.50, Grade::Watch},
        {"iec60422-2013-c", LossFactor, 0.51, Grade::Repair},
        {"iec60422-2013-c", Inhibited, 28.1, Grade::Sound},
        {"iec60422-2013-c", Inhibited, 28, Grade::Watch},
        {"iec60422-2013-c", Inhibited, 21.9, Grade::Repair},
        {"iec60422-2013-c", Uninhibited, 25.1, Grade::Sound},
        {"iec60422-2013-c", Uninhibited, 20, Grade::Watch},
        {"iec60422-2013-c", Uninhibited, 19.9, Grade::Repair},
        {"iec60422-2013-c", Unknown, 26, Grade::Watch},
        {"iec60422-2013-c", Unknown, 21, Grade::Repair},
        // IS 1866:2000 violation limits below 72.5 kV; from memory.
        {"is1866-2000", Acidity, 0.30, Grade::Sound},
        {"is1866-2000", Acidity, 0.31, Grade::Repair},
        {"is1866-2000", LossFactor, 1.0, Grade::Sound},
        {"is1866-2000", LossFactor, 1.1, Grade::Repair},
        {"is1866-2000", Unknown, 15, Grade::Sound},
        {"is1866-2000", Unknown, 14.9, Grade::Repair},
        // IEEE C57.106, service-aged, up to 69 kV; from memory.
        {"ieee-c57-106-service", Acidity, 0.20, Grade::Sound},
        {"ieee-c57-106-service", Acidity, 0.21, Grade::Repair},
        {"ieee-c57-106-service", Inhibited, 25, Grade::Sound},
        {"ieee-c57-106-service", Inhibited, 24.9, Grade::Repair},
        // New oil: IS 335:2018 and IEC 60296:2012 (second hand), IS 335:1993 (second hand).
        {"is335-2018-delivered", Acidity, 0.01, Grade::Sound},
        {"is335-2018-delivered", Acidity, 0.011, Grade::Repair},
        {"is335-2018-delivered", LossFactor, 0.0051, Grade::Repair},
        {"iec60296-2012-delivered", Inhibited, 40, Grade::Sound},
        {"iec60296-2012-delivered", Inhibited, 39.9, Grade::Repair},
        {"is335-1993-delivered", Acidity, 0.03, Grade::Sound},
        {"is335-1993-delivered", LossFactor, 0.0021, Grade::Repair},
        // New equipment before energising, up to 72.5 kV, IEC 60422:2013 Table 3; from memory.
        {"iec60422-2013-before-energising", Acidity, 0.03, Grade::Sound},
        {"iec60422-2013-before-energising", LossFactor, 0.0151, Grade::Repair},
        {"iec60422-2013-before-energising", Inhibited, 34.9, Grade::Repair},
        // New oil in new equipment up to 69 kV, IEEE C57.106; from memory.
        {"ieee-c57-106-before-energising", Acidity, 0.015, Grade::Sound},
        {"ieee-c57-106-before-energising", Acidity, 0.016, Grade::Repair},
        {"ieee-c57-106-before-energising", Inhibited, 38, Grade::Sound},
        {"ieee-c57-106-before-energising", Inhibited, 37.9, Grade::Repair},
        // The other new-oil rows; second hand.
        {"is335-2018-delivered", LossFactor, 0.005, Grade::Sound},
        {"is335-2018-delivered", Inhibited, 40, Grade::Sound},
        {"is335-2018-delivered", Inhibited, 39.9, Grade::Repair},
        {"iec60296-2012-delivered", Acidity, 0.01, Grade::Sound},
        {"iec60296-2012-delivered", Acidity, 0.011, Grade::Repair},
        {"iec60296-2012-delivered", LossFactor, 0.005, Grade::Sound},
        {"iec60296-2012-delivered", LossFactor, 0.0051, Grade::Repair},
        {"is335-1993-delivered", LossFactor, 0.002, Grade::Sound},
        {"is335-1993-delivered", Inhibited, 40, Grade::Sound},
        {"is335-1993-delivered", Inhibited, 39.9, Grade::Repair},
    };
    for (const auto& row : rows) {
        INFO(row.set << " " << static_cast<int>(row.test) << " " << row.value);
        const auto set = shipped_limits(row.set);
        const auto outcome = row.test == Acidity       ? rules::acidity(row.value, set)
                             : row.test == LossFactor  ? rules::loss_factor(row.value, set)
                             : row.test == Inhibited   ? rules::tension(row.value, true, set)
                             : row.test == Uninhibited ? rules::tension(row.value, false, set)
                                                       : rules::tension(row.value, std::nullopt, set);
        CHECK(verdict_in(outcome).grade == row.grade);
    }
}

TEST_CASE("ageing that cannot be gives no verdict, and worse is never graded better") {
    const auto set = shipped_limits("iec60422-2013-c");
    const auto none = shipped_limits("six-shots");
    for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(), -0.01, 1000.0}) {
        CHECK(refusal_in(rules::acidity(bad, set)) == "oil.ageing.impossible");
        CHECK(refusal_in(rules::loss_factor(bad, set)) == "oil.ageing.impossible");
        CHECK(refusal_in(rules::tension(bad, true, set)) == "oil.ageing.impossible");
    }
    CHECK(refusal_in(rules::acidity(0.1, none)) == "oil.no_limit");
    CHECK(refusal_in(rules::loss_factor(0.1, none)) == "oil.no_limit");
    CHECK(refusal_in(rules::tension(30, true, none)) == "oil.no_limit");
    Grade acid = Grade::Sound;
    Grade tension = Grade::Sound;
    for (int i = 0; i <= 500; ++i) {
        const auto a = std::get<model::Verdict>(rules::acidity(i / 500.0, set)).grade;
        const auto t = std::get<model::Verdict>(rules::tension(51.0 - i / 10.0, std::nullopt, set)).grade;
        CHECK(a >= acid);
        CHECK(t >= tension);
        acid = a;
        tension = t;
    }
}

TEST_CASE("colour alone rejects no oil, cloud and water do") {
    // IEC 60422:2013, from memory: colour is no criterion by itself.
    const auto looks = shipped_limits("oil-look");
    CHECK(verdict_in(rules::look("clear_amber", looks)).grade == Grade::Sound);
    CHECK(verdict_in(rules::look("clear_pale", looks)).grade == Grade::Sound);
    CHECK(verdict_in(rules::look("dark", looks)).grade == Grade::Watch);
    CHECK(verdict_in(rules::look("cloudy", looks)).grade == Grade::Repair);
    CHECK(verdict_in(rules::look("free_water", looks)).grade == Grade::Danger);
    CHECK(refusal_in(rules::look("pink", looks)) == "oil.look.unknown");
    CHECK(refusal_in(rules::look("dark", shipped_limits("six-shots"))) == "oil.look.unknown");
}

TEST_CASE("the published oil index gives its published factor, sharp at the border") {
    const auto index = shipped_limits("gb-index-2021");
    // GB regulator, Common Network Asset Indices Methodology v2.1 (2021), published check: moisture 15,
    // acidity 0.15, breakdown 30 give factor 1.4, cap 10, collar 5.5. Read in a transcription.
    const auto published = rules::oil_index(15, 0.15, 30, index);
    REQUIRE(published);
    CHECK(published->score == 1050.0);
    CHECK(published->factor == 1.4);
    CHECK(published->cap == 10.0);
    CHECK(published->collar == 5.5);
    // Just over the border of 30 kV; derived.
    const auto above = rules::oil_index(15, 0.15, 30.1, index);
    REQUIRE(above);
    CHECK(above->score == 570.0);
    CHECK(above->factor == 1.2);
    CHECK(above->collar == 0.5);
    // Every band of tables 203 to 207, both sides of its border; score 80 x moisture + 125 x acidity + 80 x
    // breakdown, from the bands 0, 2 and 0 of dry, sweet, strong oil.
    struct Band {
        double moisture, acidity, breakdown_kV, score;
    };
    for (const Band& band :
         {Band{15, 0.1, 60, 250}, Band{15.1, 0.1, 60, 250 + 80 * 2}, Band{30, 0.1, 60, 250 + 80 * 2},
          Band{30.1, 0.1, 60, 250 + 80 * 4}, Band{40, 0.1, 60, 250 + 80 * 4},
          Band{40.1, 0.1, 60, 250 + 80 * 8}, Band{50, 0.1, 60, 250 + 80 * 8},
          Band{50.1, 0.1, 60, 250 + 80 * 10}, Band{10, 0.15, 60, 125 * 2}, Band{10, 0.151, 60, 125 * 4},
          Band{10, 0.30, 60, 125 * 4}, Band{10, 0.301, 60, 125 * 8}, Band{10, 0.50, 60, 125 * 8},
          Band{10, 0.501, 60, 125 * 10}, Band{10, 0.1, 30, 250 + 80 * 10}, Band{10, 0.1, 40, 250 + 80 * 4},
          Band{10, 0.1, 40.1, 250 + 80 * 2}, Band{10, 0.1, 50, 250 + 80 * 2}, Band{10, 0.1, 50.1, 250}}) {
        INFO(band.moisture << " mg/kg, " << band.acidity << " mg KOH/g, " << band.breakdown_kV << " kV");
        const auto found = rules::oil_index(band.moisture, band.acidity, band.breakdown_kV, index);
        REQUIRE(found);
        CHECK(found->score == band.score);
        // Factor by score: up to 250 1.0, up to 500 1.1, up to 1000 1.2, above 1.4.
        CHECK(found->factor == (band.score <= 250    ? 1.0
                                : band.score <= 500  ? 1.1
                                : band.score <= 1000 ? 1.2
                                                     : 1.4));
    }
    for (const double bad : {std::nan(""), -1.0, std::numeric_limits<double>::infinity()}) {
        CHECK_FALSE(rules::oil_index(bad, 0.1, 40, index));
        CHECK_FALSE(rules::oil_index(10, bad, 40, index));
        CHECK_FALSE(rules::oil_index(10, 0.1, bad, index));
    }
    CHECK_FALSE(rules::oil_index(10, 0.1, 40, shipped_limits("six-shots")));
    std::mt19937 random(203);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    for (int i = 0; i < 1000; ++i) {
        const double moisture = 80 * share(random);
        const double acid = share(random);
        const double kV = 80 * share(random);
        const auto some = rules::oil_index(moisture, acid, kV, index);
        const auto worse = rules::oil_index(moisture + 10, acid + 0.1, kV * share(random), index);
        CHECK(worse->score >= some->score);
        CHECK(worse->factor >= some->factor);
    }
}
