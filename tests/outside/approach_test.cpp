// Approach distances against 29 CFR 1910.269, 1910.333 and EN 50110-1.
#include "checklist/rules/approach.hpp"

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

namespace {

double least(double kV, bool between_phases, double altitude_m, const model::LimitSet& set) {
    return tests::working(verdict_in(rules::approach({kV, between_phases, altitude_m, {}}, set)),
                          "work.approach.least");
}

} // namespace

TEST_CASE("1910.269 Table R-6: metres, printed feet, and the equation behind them") {
    const auto set = shipped_limits("osha-1910-269-r6");
    struct Row {
        double kV;
        double earth_m, earth_ft, phase_m, phase_ft;
        double m, d_earth,
            d_phase; ///< Table R-3: least inadvertent movement, Table R-4: electrical component
    };
    // From memory, cross-checked below: every metre value is M + D, every foot value is metres rounded up.
    const Row rows[] = {
        {0.5, 0.33, 1.09, 0.33, 1.09, 0.31, 0.02, 0.02},  {3.3, 0.63, 2.07, 0.63, 2.07, 0.61, 0.02, 0.02},
        {11.0, 0.65, 2.14, 0.68, 2.24, 0.61, 0.04, 0.07}, {22.0, 0.77, 2.53, 0.89, 2.92, 0.61, 0.16, 0.28},
        {45.0, 0.84, 2.76, 0.98, 3.22, 0.61, 0.23, 0.37}, {66.0, 1.00, 3.29, 1.20, 3.94, 0.61, 0.39, 0.59}};
    for (const Row& row : rows) {
        INFO(row.kV << " kV");
        CHECK(least(row.kV, false, 0.0, set) == row.earth_m);
        CHECK(least(row.kV, true, 0.0, set) == row.phase_m);
        CHECK(row.earth_m == Approx(row.m + row.d_earth).margin(0.0051));
        CHECK(row.phase_m == Approx(row.m + row.d_phase).margin(0.0051));
        CHECK(std::ceil(row.earth_m / 0.3048 * 100.0) / 100.0 == Approx(row.earth_ft));
        CHECK(std::ceil(row.phase_m / 0.3048 * 100.0) / 100.0 == Approx(row.phase_ft));
    }
    CHECK(refusal_in(rules::approach({72.6, false, 0.0, {}}, set)) == "no.voltage_not_in_set");
    CHECK(verdict_in(rules::approach({0.24, false, 0.0, {}}, set)).because.key ==
          "because.approach.avoid_contact");
}

TEST_CASE("1910.269: the superseded table is not used") {
    // Read on the agency's own old training page: 0.64 m for 1.1 to 15 kV, 0.72, 0.77 and 0.90 m above.
    const auto set = shipped_limits("osha-1910-269-r6");
    CHECK(least(11.0, false, 0.0, set) > 0.64);
    CHECK(least(22.0, false, 0.0, set) > 0.72);
    CHECK(least(45.0, false, 0.0, set) > 0.77);
    CHECK(least(66.0, false, 0.0, set) > 0.90);
}

TEST_CASE("1910.269 Table R-5: the whole distance times the altitude factor, rounded up") {
    const auto set = shipped_limits("osha-1910-269-r6");
    struct Row {
        double altitude_m, factor, earth_m, phase_m;
    };
    // Factors from memory; the products for 11 kV derived to three places.
    const Row rows[] = {{900, 1.00, 0.650, 0.680},  {1200, 1.02, 0.663, 0.694}, {1500, 1.05, 0.683, 0.714},
                        {1800, 1.08, 0.702, 0.734}, {2100, 1.11, 0.722, 0.755}, {2400, 1.14, 0.741, 0.775},
                        {2700, 1.17, 0.760, 0.796}, {3000, 1.20, 0.780, 0.816}, {3600, 1.25, 0.813, 0.850},
                        {4200, 1.30, 0.845, 0.884}};
    for (const Row& row : rows) {
        INFO(row.altitude_m << " m");
        CHECK(*rules::altitude_factor(row.altitude_m, set) == row.factor);
        // Rounded up to the centimetre, so at most 1 cm above and never below.
        const double earth = least(11.0, false, row.altitude_m, set);
        const double phase = least(11.0, true, row.altitude_m, set);
        CHECK(earth >= row.earth_m - 0.0006);
        CHECK(earth < row.earth_m + 0.0101);
        CHECK(phase >= row.phase_m - 0.0006);
        CHECK(phase < row.phase_m + 0.0101);
    }
    // The factor on the electrical part alone would give 0.658 m at 3000 m: too little for this table.
    CHECK(least(11.0, false, 3000.0, set) == 0.78);
    CHECK(*rules::altitude_factor(900.1, set) == 1.02);
    CHECK(*rules::altitude_factor(6000, set) == 1.44);
    CHECK(!rules::altitude_factor(6000.1, set));
}

TEST_CASE("1910.333: 10 ft to 50 kV and 4 in for each 10 kV above, read") {
    const auto set = shipped_limits("osha-1910-333-c3");
    const auto far = [&](double kV) {
        return tests::working(verdict_in(rules::approach_unqualified({kV, false, 0.0, {}}, set)),
                              "work.approach.least");
    };
    CHECK(far(11.0) == 3.05);
    CHECK(far(50.0) == 3.05);
    CHECK(far(50.1) == 3.15);
    CHECK(far(60.0) == 3.15);
    CHECK(far(66.0) == 3.25);
    CHECK(verdict_in(rules::approach_unqualified({11.0, false, 0.0, 3.0}, set)).grade == Grade::Danger);
    CHECK(verdict_in(rules::approach_unqualified({11.0, false, 0.0, 3.05}, set)).grade == Grade::Sound);
    // Three distances must not be taken for each other: the trained person's is far smaller.
    CHECK(least(11.0, false, 0.0, shipped_limits("osha-1910-269-r6")) < far(11.0));
}

TEST_CASE("EN 50110-1 Table A.1: outer limit of the vicinity zone, from memory") {
    const auto set = shipped_limits("en50110-1-vicinity");
    CHECK(least(0.4, false, 0.0, set) == 0.30);
    CHECK(least(1.0, false, 0.0, set) == 0.30);
    CHECK(least(10.0, false, 0.0, set) == 1.15);
    CHECK(least(15.0, false, 0.0, set) == 1.16);
    CHECK(least(30.0, false, 0.0, set) == 1.32);
    CHECK(least(11.0, false, 0.0, set) == 1.16); // the 15 kV row
    CHECK(least(20.0, false, 0.0, set) == 1.22);
    CHECK(least(36.0, false, 0.0, set) == 1.38);
    CHECK(refusal_in(rules::approach({11.0, false, 1500.0, {}}, set)) == "no.approach.altitude");
}

TEST_CASE("other published distances by voltage: HSE GS6 and CEA Schedule VII, from memory") {
    struct Row {
        const char* set;
        double kV, least_m;
    };
    // Printed values, so no tolerance.
    const Row rows[] = {
        {"uk-gs6-exclusion", 0.4, 1.0},        {"uk-gs6-exclusion", 11, 3.0},
        {"uk-gs6-exclusion", 33, 3.0},         {"uk-gs6-exclusion", 132, 6.0},
        {"uk-gs6-exclusion", 275, 7.0},        {"uk-gs6-exclusion", 400, 7.0},
        {"india-cea-2010-outdoor", 12, 2.6},   {"india-cea-2010-outdoor", 36, 2.8},
        {"india-cea-2010-outdoor", 72.5, 3.1}, {"india-cea-2010-outdoor", 145, 3.7},
        {"india-cea-2010-outdoor", 245, 4.3},  {"india-cea-2010-outdoor", 420, 6.4},
    };
    for (const Row& row : rows) {
        INFO(row.set << " at " << row.kV << " kV");
        const auto set = shipped_limits(row.set);
        CHECK(least(row.kV, false, 0.0, set) == row.least_m);
        CHECK(verdict_in(rules::approach({row.kV, false, 0.0, row.least_m - 0.01}, set)).grade ==
              Grade::Danger);
    }
}

TEST_CASE("1926.1408 Table A: cranes, read, in feet") {
    const auto set = shipped_limits("osha-1926-1408-cranes");
    struct Row {
        double kV, feet;
    };
    const Row rows[] = {{11, 10},  {50, 10},  {50.1, 15}, {200, 15},
                        {350, 20}, {500, 25}, {750, 35},  {1000, 45}};
    for (const Row& row : rows) {
        INFO(row.kV << " kV");
        const double m = least(row.kV, false, 2000.0, set);
        CHECK(m >= row.feet * 0.3048);
        CHECK(m < row.feet * 0.3048 + 0.01);
    }
}

TEST_CASE("1910.333 Table S-5: premises wiring, from memory") {
    const auto set = shipped_limits("osha-1910-333-s5");
    struct Row {
        double kV, least_m;
    };
    // Rounded up to the centimetre by the rule: 0.305 becomes 0.31.
    const Row rows[] = {{0.48, 0.31}, {1.0, 0.46},  {2.0, 0.46},   {11.0, 0.61}, {15.0, 0.61},
                        {33.0, 0.91}, {69.0, 1.07}, {115.0, 1.22}, {138.0, 1.37}};
    for (const Row& row : rows) {
        INFO(row.kV << " kV");
        CHECK(least(row.kV, false, 0.0, set) == row.least_m);
    }
}

TEST_CASE("approach: impossible numbers give no answer, and more voltage or altitude is never nearer") {
    const auto set = shipped_limits("osha-1910-269-r6");
    const auto others = shipped_limits("osha-1910-333-c3");
    for (const double x : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                           -std::numeric_limits<double>::infinity(), -1000.0, 1e9}) {
        INFO(x);
        CHECK(!refusal_in(rules::approach({x, false, 0.0, {}}, set)).empty());
        CHECK(!refusal_in(rules::approach({11.0, false, x, {}}, set)).empty());
        CHECK(!refusal_in(rules::approach({11.0, false, 0.0, x}, set)).empty());
        CHECK(!refusal_in(rules::approach_unqualified({x, false, 0.0, {}}, others)).empty());
        CHECK(!refusal_in(rules::approach_unqualified({11.0, false, 0.0, x}, others)).empty());
    }
    CHECK(refusal_in(rules::approach({11.0, false, 0.0, {}}, others)) == "no.limit_missing");
    std::mt19937 random(14);
    std::uniform_real_distribution<double> kV(0.31, 36.0), up(0.0, 36.0), altitude(0.0, 3000.0);
    for (int i = 0; i < 500; ++i) {
        const double v = kV(random), h = altitude(random);
        const double here = least(v, false, h, set);
        REQUIRE(least(v + up(random), false, h + altitude(random), set) >= here);
        REQUIRE(least(v, true, h, set) >= here);
    }
}
