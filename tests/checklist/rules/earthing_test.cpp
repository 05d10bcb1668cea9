#include "checklist/rules/earthing.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

TEST_CASE("electrode: three readings must agree before they count, 5 % good and 10 % loose, from memory") {
    const auto set = shipped_limits("earth-pole-transformer-practice");
    CHECK(verdict_in(rules::electrode({3.9, 4.0, 4.1, {}}, set)).grade == Grade::Sound);
    CHECK(verdict_in(rules::electrode({3.81, 4.0, 4.19, {}}, set)).grade == Grade::Sound);
    CHECK(verdict_in(rules::electrode({3.79, 4.0, 4.1, {}}, set)).because.key == "because.earth.loose");
    CHECK(verdict_in(rules::electrode({3.61, 4.0, 4.0, {}}, set)).grade == Grade::Watch);
    CHECK(refusal_in(rules::electrode({3.59, 4.0, 4.0, {}}, set)) == "no.earth.spread");
    CHECK(refusal_in(rules::electrode({4.0, 4.0, 4.41, {}}, set)) == "no.earth.spread");
}

TEST_CASE("electrode: 5 Ω wanted, 10 Ω at most, Indian utility practice from memory") {
    const auto set = shipped_limits("earth-pole-transformer-practice");
    const auto grade = [&](double ohm) {
        return verdict_in(rules::electrode({ohm, ohm, ohm, {}}, set)).grade;
    };
    CHECK(grade(5.0) == Grade::Sound);
    CHECK(grade(5.01) == Grade::Watch);
    CHECK(grade(10.0) == Grade::Watch);
    CHECK(grade(10.01) == Grade::Repair);
    // NEC 250.53(A)(2), read: one rod up to 25 Ω.
    const auto nec = shipped_limits("nec-250-53-single-rod");
    CHECK(verdict_in(rules::electrode({25, 25, 25, {}}, nec)).grade == Grade::Sound);
    CHECK(verdict_in(rules::electrode({25.1, 25.1, 25.1, {}}, nec)).grade == Grade::Repair);
}

TEST_CASE("electrode: a rise since last time, and a reading without a traverse, are never Sound") {
    const auto set = shipped_limits("earth-pole-transformer-practice");
    CHECK(verdict_in(rules::electrode({4, 4, 4, 3.1}, set)).grade == Grade::Sound);
    CHECK(verdict_in(rules::electrode({4, 4, 4, 3.0}, set)).because.key == "because.earth.rising");
    CHECK(verdict_in(rules::electrode_single(2.0, set)).grade == Grade::Watch);
    CHECK(verdict_in(rules::electrode_single(12.0, set)).grade == Grade::Repair);
}

TEST_CASE("earthing: impossible numbers give no answer") {
    const auto set = shipped_limits("earth-pole-transformer-practice");
    for (const double x : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                           -std::numeric_limits<double>::infinity(), -1.0, 0.0, 1e9}) {
        INFO(x);
        CHECK(refusal_in(rules::electrode({x, 4, 4, {}}, set)) == "no.earth.reading");
        CHECK(refusal_in(rules::electrode({4, x, 4, {}}, set)) == "no.earth.reading");
        CHECK(refusal_in(rules::electrode({4, 4, 4, x}, set)) == "no.earth.reading");
        CHECK(refusal_in(rules::electrode_single(x, set)) == "no.earth.reading");
        CHECK(!rules::rod_ohm(x, 3, 0.016));
        CHECK(!rules::rod_ohm(100, x, 0.016));
        CHECK(!rules::rod_is3043_ohm(100, 3, x));
        CHECK(!rules::two_rods_ohm(100, 3, 0.016, x));
        CHECK(!rules::wenner_ohm_m(x, 5.0));
        CHECK(!rules::wenner_ohm_m(3.0, 0.1, x));
        CHECK(!rules::fall_of_potential_error_ohm(100, 30, x));
        CHECK(!rules::surface_factor(x, 2500, 0.1));
        CHECK(!rules::step_touch(0.7, 2500, x, rules::Body::Kg70));
    }
    CHECK(!rules::two_rods_ohm(100, 3, 0.016, 2.9)); // nearer than a rod length
    CHECK(!rules::parallel_rods_ohm(33.49, 5, shipped_limits("ieee142-parallel-rods"))); // not interpolated
    CHECK(!rules::parallel_rods_ohm(33.49, 0, shipped_limits("ieee142-parallel-rods")));
    CHECK(refusal_in(rules::electrode({4, 4, 4, {}}, shipped_limits("astm-f855"))) == "no.limit_missing");
}

TEST_CASE("earthing: properties") {
    const auto set = shipped_limits("earth-pole-transformer-practice");
    std::mt19937 random(12);
    std::uniform_real_distribution<double> soil(1.0, 5000.0), length(1.0, 10.0), factor(1.0, 5.0);
    for (int i = 0; i < 1000; ++i) {
        const double rho = soil(random), l = length(random), f = factor(random);
        // Longer or in better soil is never higher; twice the resistivity is twice the resistance.
        REQUIRE(*rules::rod_ohm(rho, l * f, 0.016) <= *rules::rod_ohm(rho, l, 0.016));
        REQUIRE(*rules::rod_ohm(2 * rho, l, 0.016) == Approx(2 * *rules::rod_ohm(rho, l, 0.016)));
        // Two rods lie between half of one and one, and farther apart is never higher.
        const double near = *rules::two_rods_ohm(rho, l, 0.016, l);
        REQUIRE(near < *rules::rod_ohm(rho, l, 0.016));
        REQUIRE(*rules::two_rods_ohm(rho, l, 0.016, l * f) <= near + 1e-9);
        REQUIRE(*rules::two_rods_ohm(rho, l, 0.016, l * f) > 0.5 * *rules::rod_ohm(rho, l, 0.016));
        const double ohm = rho / 200.0;
        const auto low = std::get<model::Verdict>(rules::electrode({ohm, ohm, ohm, {}}, set)).grade;
        const double more = ohm * f;
        REQUIRE(std::get<model::Verdict>(rules::electrode({more, more, more, {}}, set)).grade >= low);
    }
}
