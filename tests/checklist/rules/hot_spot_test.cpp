#include "checklist/rules/hot_spot.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using rules::Paper;
using rules::ThermalState;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

rules::ThermalFacts distribution() {
    return *rules::thermal_facts(shipped_limits("iec60076-7-distribution"));
}

const double kBad[] = {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                       -std::numeric_limits<double>::infinity(), -1000.0, 1e9};

} // namespace

TEST_CASE("hot-spot: no time changes nothing, long time reaches the steady state") {
    const auto facts = distribution();
    const ThermalState start{60.0, 12.0, 0.0};
    CHECK(*rules::after(facts, start, 1.2, 30.0, 0.0) == start);
    const auto end = rules::after(facts, start, 1.0, 25.0, 1e6);
    CHECK(end->top_oil_C == Approx(80.0));
    CHECK(end->hot_spot_C() == Approx(103.0));
    // No load leaves the no-load loss: 55 (1/6)^0.8 K.
    CHECK(rules::steady(facts, 0.0, 0.0)->top_oil_C == Approx(55.0 * std::pow(1.0 / 6.0, 0.8)));
}

TEST_CASE("hot-spot: one long step equals many short ones") {
    const auto facts = *rules::thermal_facts(shipped_limits("iec60076-7-medium-onan"));
    std::mt19937 random(5);
    std::uniform_real_distribution<double> share(0.0, 2.0), ambient(-20.0, 45.0), minutes(0.5, 500.0);
    for (int i = 0; i < 300; ++i) {
        const ThermalState start{ambient(random) + 40.0, 20.0, 5.0};
        const double k = share(random), air = ambient(random), time = minutes(random);
        ThermalState now = start;
        for (int step = 0; step < 17; ++step) {
            now = *rules::after(facts, now, k, air, time / 17.0);
        }
        const auto at_once = *rules::after(facts, start, k, air, time);
        REQUIRE(now.hot_spot_C() == Approx(at_once.hot_spot_C()).margin(1e-9));
    }
}

TEST_CASE("hot-spot: more load, hotter air or a hotter start is never cooler, and ages no slower") {
    const auto facts = distribution();
    std::mt19937 random(6);
    std::uniform_real_distribution<double> share(0.0, 1.4), ambient(-20.0, 40.0), more(0.0, 0.5),
        minutes(1.0, 900.0);
    for (int i = 0; i < 1000; ++i) {
        const double k = share(random), air = ambient(random), time = minutes(random);
        const auto cool = *rules::after(facts, {air + 20.0, 5.0, 0.0}, k, air, time);
        const auto hot =
            *rules::after(facts, {air + 20.0, 5.0, 0.0}, k + more(random), air + more(random), time);
        REQUIRE(hot.hot_spot_C() >= cool.hot_spot_C());
        for (const Paper paper : {Paper::Normal, Paper::Upgraded}) {
            REQUIRE(*rules::ageing_rate(hot.hot_spot_C(), paper) >=
                    *rules::ageing_rate(cool.hot_spot_C(), paper));
        }
        // Permitted load: it fits, a little more does not, and hotter air allows no more.
        const auto start = *rules::steady(facts, 0.5, air);
        const auto most = *rules::permitted_share(facts, start, air, time, 120.0, 105.0, 1.5);
        const auto at_most = *rules::after(facts, start, most, air, time);
        REQUIRE(at_most.hot_spot_C() <= 120.0 + 1e-9);
        if (most < 1.5) {
            const auto beyond = *rules::after(facts, start, most + 1e-6, air, time);
            REQUIRE((beyond.hot_spot_C() > 120.0 || beyond.top_oil_C > 105.0));
        }
        const auto hotter = *rules::steady(facts, 0.5, air + 5.0);
        REQUIRE(*rules::permitted_share(facts, hotter, air + 5.0, time, 120.0, 105.0, 1.5) <= most);
    }
}

TEST_CASE("hot-spot: a day grades by its peak and its ageing") {
    const auto facts = distribution();
    const auto limits = shipped_limits("iec60076-7-2005-table-4");
    const auto day = [&](double share, double ambient_C) {
        return verdict_in(rules::day_load({{{1440.0, share, ambient_C}}, Paper::Normal}, facts, limits))
            .grade;
    };
    CHECK(day(0.9, 20.0) == Grade::Sound);
    CHECK(day(1.0, 25.0) == Grade::Watch);  // 103 °C: faster than rate 1
    CHECK(day(1.2, 20.0) == Grade::Repair); // 121.4 °C
    CHECK(day(1.5, 20.0) == Grade::Danger); // 161 °C
    // Upgraded paper ages slower at the same temperature.
    CHECK(verdict_in(rules::day_load({{{1440.0, 1.0, 25.0}}, Paper::Upgraded}, facts, limits)).grade ==
          Grade::Sound);
}

TEST_CASE("overload: short and cool may, long or hot may not") {
    const auto facts = distribution();
    const auto limits = shipped_limits("iec60076-7-2005-table-4");
    const auto ask = [&](double minutes, double share, double ambient_C) {
        return verdict_in(rules::overload({0.5, ambient_C, minutes, share}, facts, limits));
    };
    // From 0.5 to 1.3 at 30 °C the hot-spot passes 120 °C between 120 and 180 min (derived step above).
    CHECK(ask(120.0, 1.3, 30.0).grade == Grade::Sound);
    CHECK(ask(180.0, 1.3, 30.0).grade == Grade::Repair);
    CHECK(ask(720.0, 1.3, 30.0).grade == Grade::Danger);
    CHECK(ask(30.0, 1.9, 30.0).grade == Grade::Danger); // beyond the current limit of emergency loading
    const auto v = ask(180.0, 1.3, 30.0);
    CHECK(tests::working(v, "work.loading.permitted_normal") < 130.0);
    CHECK(tests::working(v, "work.loading.permitted_emergency") > 130.0);
}

TEST_CASE("hot-spot: impossible numbers give no answer") {
    const auto facts = distribution();
    const auto limits = shipped_limits("iec60076-7-2005-table-4");
    const ThermalState start{60.0, 12.0, 0.0};
    for (const double x : kBad) {
        INFO(x);
        CHECK(!rules::steady(facts, x, 20.0));
        CHECK(!rules::steady(facts, 1.0, x));
        CHECK(!rules::after(facts, start, 1.0, 20.0, x));
        CHECK(!rules::after(facts, {x, 1.0, 0.0}, 1.0, 20.0, 1.0));
        CHECK(!rules::after_by_differences(facts, start, 1.0, 20.0, x));
        CHECK(!rules::ageing_rate(x, Paper::Normal));
        CHECK(!rules::permitted_share(facts, start, x, 60.0, 120.0, 105.0, 1.5));
        CHECK(!rules::permitted_share(facts, start, 20.0, 60.0, x, 105.0, 1.5));
        CHECK(!rules::run_profile(facts, start, {{x, 1.0, 20.0}}, Paper::Normal));
        CHECK(!rules::run_profile(facts, start, {{60.0, 1.0, 20.0}}, Paper::Normal, x));
        CHECK(!rules::periodic_start(facts, {{60.0, x, 20.0}}));
        CHECK(refusal_in(rules::day_load({{{60.0, x, 20.0}}, Paper::Normal}, facts, limits)) ==
              "no.loading.profile");
        CHECK(refusal_in(rules::overload({0.5, 20.0, x, 1.2}, facts, limits)) == "no.loading.overload");
        CHECK(refusal_in(rules::overload({0.5, 20.0, 60.0, x}, facts, limits)) == "no.loading.overload");
        for (int field = 0; field < 10; ++field) {
            auto odd = facts;
            double* const fields[] = {&odd.top_oil_rise_K,
                                      &odd.gradient_K,
                                      &odd.loss_ratio,
                                      &odd.oil_exponent,
                                      &odd.winding_exponent,
                                      &odd.k11,
                                      &odd.k21,
                                      &odd.k22,
                                      &odd.oil_time_min,
                                      &odd.winding_time_min};
            *fields[field] = x;
            CHECK(!rules::possible(odd));
            CHECK(!rules::steady(odd, 1.0, 20.0));
        }
    }
    CHECK(!rules::run_profile(facts, start, {}, Paper::Normal));
    CHECK(!rules::thermal_facts(limits));
    CHECK(refusal_in(rules::day_load({{{60.0, 1.0, 20.0}}, Paper::Normal}, facts,
                                     shipped_limits("iec60076-7-distribution"))) == "no.limit_missing");
}
