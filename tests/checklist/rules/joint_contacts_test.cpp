#include "checklist/rules/joints.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <limits>

using namespace crossarm;
using model::Grade;
using model::When;
using rules::Plating;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

TEST_CASE("joint over ambient: a military scale, read, grades without a twin") {
    const auto set = shipped_limits("military-over-ambient");
    struct Row {
        double rise_K;
        Grade grade;
        std::optional<When> when;
    };
    // Printed 10-25, 25-40, 40-70, 70 and more.
    const Row rows[] = {{9.9, Grade::Sound, {}},
                        {10.0, Grade::Watch, When::AtNextVisit},
                        {25.0, Grade::Watch, When::AtNextVisit},
                        {25.1, Grade::Repair, When::Within30Days},
                        {40.1, Grade::Repair, When::Within7Days},
                        {70.1, Grade::Danger, When::BeforeSupplyReturns}};
    for (const Row& row : rows) {
        INFO(row.rise_K << " K");
        const auto v = verdict_in(rules::rise({20.0 + row.rise_K, 20.0, 20.0, 100.0, 100.0}, set));
        CHECK(v.grade == row.grade);
        CHECK(v.when == row.when);
        CHECK(v.source.set == "military-over-ambient");
    }
}

TEST_CASE("joint resistance since new: GB regulator's asset-health table 196, read: 2.5 % and 5 %") {
    const auto set = shipped_limits("gb-asset-health-196");
    const auto grade = [&](double now) {
        return verdict_in(rules::resistance_since_new(now, 100.0, set)).grade;
    };
    CHECK(grade(95.0) == Grade::Sound);
    CHECK(grade(102.4) == Grade::Sound);
    CHECK(grade(102.6) == Grade::Watch);
    CHECK(grade(104.9) == Grade::Watch);
    CHECK(grade(105.1) == Grade::Repair);
}

TEST_CASE("joint temperature at rated current: IEC 62271-1 bolted in air, from memory: 90, 105, 115 °C") {
    const auto set = shipped_limits("iec62271-1-bolted");
    const auto grade = [&](double joint_C, double current_A, Plating plating) {
        return verdict_in(rules::hottest_allowed({joint_C, {}, 30.0, current_A, 100.0}, plating, set)).grade;
    };
    CHECK(grade(80.0, 100.0, Plating::Bare) == Grade::Sound);
    CHECK(grade(80.1, 100.0, Plating::Bare) == Grade::Watch);
    CHECK(grade(90.1, 100.0, Plating::Bare) == Grade::Danger);
    CHECK(grade(95.1, 100.0, Plating::Tin) == Grade::Watch);
    CHECK(grade(105.1, 100.0, Plating::Tin) == Grade::Danger);
    CHECK(grade(115.0, 100.0, Plating::Silver) == Grade::Watch);
    CHECK(grade(115.1, 100.0, Plating::Silver) == Grade::Danger);
    // 15.1 K at half load are 60.4 K at rated load, on 30 °C.
    CHECK(grade(45.1, 50.0, Plating::Bare) == Grade::Danger);
    CHECK(grade(44.9, 50.0, Plating::Bare) == Grade::Watch);
    CHECK(refusal_in(rules::hottest_allowed({60.0, {}, 30.0, 39.0, 100.0}, Plating::Bare, set)) ==
          "no.joints.low_load");
    CHECK(grade(91.0, 10.0, Plating::Bare) == Grade::Danger); // hot already, whatever the load
}

TEST_CASE("joint contacts: impossible numbers give no verdict") {
    const auto change = shipped_limits("gb-asset-health-196");
    const auto hot = shipped_limits("iec62271-1-bolted");
    for (const double x : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                           -std::numeric_limits<double>::infinity(), -100.0, 1e9}) {
        INFO(x);
        CHECK(!refusal_in(rules::resistance_since_new(x, 100.0, change)).empty());
        CHECK(!refusal_in(rules::resistance_since_new(100.0, x, change)).empty());
        CHECK(!refusal_in(rules::hottest_allowed({x, {}, 30, 90, 100}, Plating::Bare, hot)).empty());
        CHECK(!refusal_in(rules::hottest_allowed({50, {}, x, 90, 100}, Plating::Bare, hot)).empty());
        CHECK(!refusal_in(rules::hottest_allowed({50, {}, 30, x, 100}, Plating::Bare, hot)).empty());
        CHECK(!refusal_in(rules::hottest_allowed({50, {}, 30, 90, x}, Plating::Bare, hot)).empty());
    }
    CHECK(refusal_in(rules::resistance_since_new(100, 100, hot)) == "no.limit_missing");
    CHECK(refusal_in(rules::hottest_allowed({50, {}, 30, 90, 100}, Plating::Bare, change)) ==
          "no.limit_missing");
}
