#include "checklist/rules/outage.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <limits>
#include <random>

using namespace crossarm;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

TEST_CASE("outage: customer-minutes and shares of the indices, definitions of IEEE 1366 from memory") {
    // By hand: 120 min x 60 + 45 min x 40 = 9000; over 2000 customers 4.5 min and 0.05.
    const auto f = rules::outage_figures({{120, 60}, {45, 40}}, 2000, 5.0);
    CHECK(f->customer_minutes == 9000.0);
    CHECK(f->saidi_min == 4.5);
    CHECK(f->saifi == 0.05);
    // Up to 5 minutes is momentary and counts in neither.
    const auto short_one = rules::outage_figures({{5.0, 100}, {5.1, 10}}, 2000, 5.0);
    CHECK(short_one->momentary_customers == 100);
    CHECK(short_one->customers_interrupted == 10);
    CHECK(short_one->customer_minutes == Approx(51.0));
    const auto v =
        verdict_in(rules::outage({{120, 60}, {45, 40}}, 2000, shipped_limits("ieee1366-momentary")));
    CHECK(v.grade == model::Grade::Sound);
    CHECK(tests::working(v, "work.outage.saidi") == 4.5);
}

TEST_CASE("outage: impossible numbers give no figures") {
    const auto set = shipped_limits("ieee1366-momentary");
    for (const double x :
         {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(), -1.0, 1e9}) {
        INFO(x);
        CHECK(!rules::outage_figures({{x, 10}}, 2000, 5.0));
        CHECK(!rules::outage_figures({{10, 10}}, 2000, x));
        CHECK(refusal_in(rules::outage({{x, 10}}, 2000, set)) == "no.outage.reading");
    }
    CHECK(!rules::outage_figures({}, 2000, 5.0));
    CHECK(!rules::outage_figures({{10, 10}}, 0, 5.0));
    CHECK(!rules::outage_figures({{10, -10}}, 2000, 5.0));
    CHECK(!rules::outage_figures({{10, 1500}, {20, 501}}, 2000, 5.0));
    CHECK(rules::outage_figures({{10, 1500}, {20, 500}}, 2000, 5.0));
    CHECK(refusal_in(rules::outage({{10, 10}}, 2000, shipped_limits("wind-bands"))) == "no.limit_missing");
}

TEST_CASE("outage: longer or for more customers never costs less") {
    std::mt19937 random(16);
    std::uniform_real_distribution<double> minutes(0.0, 600.0);
    std::uniform_int_distribution<int> customers(0, 500);
    for (int i = 0; i < 1000; ++i) {
        const double m = minutes(random), more = minutes(random);
        const int c = customers(random), extra = customers(random);
        const auto a = *rules::outage_figures({{m, c}}, 2000, 5.0);
        const auto b = *rules::outage_figures({{m + more, c + extra}}, 2000, 5.0);
        REQUIRE(b.customer_minutes >= a.customer_minutes);
        REQUIRE(b.saifi >= a.saifi);
        // In two parts it is the same as in one.
        const auto parts = *rules::outage_figures({{m, c}, {m, extra}}, 2000, 5.0);
        REQUIRE(parts.customer_minutes ==
                Approx(rules::outage_figures({{m, c + extra}}, 2000, 5.0)->customer_minutes));
    }
}
