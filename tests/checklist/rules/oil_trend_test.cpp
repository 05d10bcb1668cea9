// The trend of one oil reading.
#include "checklist/rules/oil_trend.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <cmath>
#include <limits>
#include <random>

using namespace crossarm;
using model::Date;
using model::Grade;
using model::Unit;
using rules::Followed;
using rules::Sample;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

const Followed kBreakdown{"breakdown", Unit::Kilovolt, true, 0.0};
const Followed kAcidity{"acidity", Unit::MilligramKohPerGram, false, 0.0};

} // namespace

TEST_CASE("how far two breakdown results must be apart to differ") {
    // Institute for Interlaboratory Studies, proficiency test of 2016: mean 70.76 kV, scatter 0.10 read off
    // figure 3 of IEC 60156:1995 (second hand); r = 2.8 x 0.1 x 70.76 = 19.81 kV, R = 3 r = 59.44 kV. To two
    // decimals.
    const auto r = rules::repeatability_kV(70.76, shipped_limits("six-shots"));
    REQUIRE(r);
    CHECK(std::abs(*r - 19.81) < 0.005);
    CHECK(std::abs(3.0 * *r - 59.44) < 0.005);
    CHECK_FALSE(rules::repeatability_kV(0.0, shipped_limits("six-shots")));
    CHECK_FALSE(rules::repeatability_kV(std::nan(""), shipped_limits("six-shots")));
}

TEST_CASE("a straight line through samples is found again") {
    std::mt19937 random(335);
    std::uniform_real_distribution<double> number(-10.0, 10.0);
    for (int i = 0; i < 200; ++i) {
        const double start = number(random);
        const double per_year = number(random);
        std::vector<Sample> samples;
        for (int day = 20'000; day <= 20'730; day += 73) {
            samples.push_back({Date{day}, start + per_year * (day - 20'000) / 365.25});
        }
        const auto trend = rules::trend_of(samples);
        REQUIRE(trend);
        CHECK(trend->per_year == Approx(per_year).margin(1e-9));
        CHECK(trend->now == Approx(samples.back().value).margin(1e-9));
    }
}

TEST_CASE("days until the limit, by hand") {
    // 50 kV falling 5 kV a year reaches 30 kV after four years.
    const rules::Trend falling{-5.0, 50.0, -10.0};
    CHECK(*rules::days_until(falling, 30.0, true) == Approx(4 * 365.25));
    CHECK(rules::days_until(falling, 50.0, true) == 0.0);
    CHECK_FALSE(rules::days_until(falling, 60.0, false)); // falling acidity never reaches it
    CHECK_FALSE(rules::days_until({0.0, 50.0, 0.0}, 30.0, true));
}

TEST_CASE("a trend is Watch only when it is more than scatter and meets the limit soon") {
    const auto limits = shipped_limits("iec60422-2013-c");
    const auto practice = shipped_limits("oil-trend-practice");
    const std::vector<Sample> fast = {{Date{20'000}, 60}, {Date{20'365}, 50}, {Date{20'730}, 40}};
    const std::vector<Sample> slow = {{Date{20'000}, 60}, {Date{20'365}, 58}, {Date{20'730}, 56}};
    CHECK(verdict_in(rules::oil_trend(fast, kBreakdown, limits, practice)).grade == Grade::Watch);
    CHECK(verdict_in(rules::oil_trend(slow, kBreakdown, limits, practice)).grade == Grade::Sound);
    Followed noisy = kBreakdown;
    noisy.noise = *rules::repeatability_kV(75.0, shipped_limits("six-shots")); // 21 kV: 20 kV is no change
    const auto told = verdict_in(rules::oil_trend(fast, noisy, limits, practice));
    CHECK(told.grade == Grade::Sound);
    CHECK(told.because.key == "oil.trend.none");
    const std::vector<Sample> acid = {{Date{20'000}, 0.05}, {Date{20'365}, 0.15}, {Date{20'730}, 0.25}};
    CHECK(verdict_in(rules::oil_trend(acid, kAcidity, limits, practice)).grade == Grade::Watch);
}

TEST_CASE("samples that make no trend give no verdict") {
    const auto limits = shipped_limits("iec60422-2013-c");
    const auto practice = shipped_limits("oil-trend-practice");
    const std::vector<Sample> good = {{Date{1}, 60}, {Date{2}, 50}, {Date{3}, 40}};
    CHECK(refusal_in(rules::oil_trend({}, kBreakdown, limits, practice)) == "oil.trend.too_few");
    CHECK(refusal_in(rules::oil_trend({good[0], good[1]}, kBreakdown, limits, practice)) ==
          "oil.trend.too_few");
    CHECK(refusal_in(rules::oil_trend({good[1], good[0], good[2]}, kBreakdown, limits, practice)) ==
          "oil.trend.impossible");
    CHECK(refusal_in(rules::oil_trend({good[0], good[0], good[0]}, kBreakdown, limits, practice)) ==
          "oil.trend.impossible");
    for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(), 1e10}) {
        CHECK(refusal_in(rules::oil_trend({good[0], good[1], {Date{3}, bad}}, kBreakdown, limits,
                                          practice)) == "oil.trend.impossible");
    }
    CHECK(refusal_in(rules::oil_trend(good, kBreakdown, limits, limits)) == "oil.no_limit");
    CHECK(refusal_in(rules::oil_trend(good, kBreakdown, practice, practice)) == "oil.no_limit");
}

TEST_CASE("a worse last sample never gives a better trend") {
    const auto limits = shipped_limits("iec60422-2013-c");
    const auto practice = shipped_limits("oil-trend-practice");
    std::mt19937 random(9);
    std::uniform_real_distribution<double> kV(10.0, 80.0);
    for (int i = 0; i < 2000; ++i) {
        std::vector<Sample> samples = {
            {Date{20'000}, kV(random)}, {Date{20'300}, kV(random)}, {Date{20'700}, kV(random)}};
        const auto some = std::get<model::Verdict>(rules::oil_trend(samples, kBreakdown, limits, practice));
        samples.back().value -= 5.0;
        const auto worse = std::get<model::Verdict>(rules::oil_trend(samples, kBreakdown, limits, practice));
        CHECK(worse.grade >= some.grade);
    }
}
