#include "checklist/rules/joints.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using model::When;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

constexpr double kRated_A = 139.0;

rules::JointReadings joint(double rise_K, std::optional<double> over_twin_K = std::nullopt,
                           double current_A = kRated_A) {
    rules::JointReadings r;
    r.ambient_C = 30.0;
    r.joint_C = 30.0 + rise_K;
    if (over_twin_K) {
        r.twin_C = r.joint_C - *over_twin_K;
    }
    r.current_A = current_A;
    r.rated_A = kRated_A;
    return r;
}

} // namespace

TEST_CASE("joint over ambient: bands of NETA MTS Table 100.18, read") {
    const auto set = shipped_limits("neta-mts-100-18");
    struct Row {
        double rise_K;
        Grade grade;
        std::optional<When> when;
    };
    // Printed bands 1-10, 11-20, 21-40, above 40 K; a value between two bands belongs to the upper one.
    const Row rows[] = {{0.0, Grade::Sound, {}},
                        {0.9, Grade::Sound, {}},
                        {1.0, Grade::Watch, When::AtNextVisit},
                        {10.0, Grade::Watch, When::AtNextVisit},
                        {10.5, Grade::Repair, When::Within30Days},
                        {11.0, Grade::Repair, When::Within30Days},
                        {20.0, Grade::Repair, When::Within30Days},
                        {21.0, Grade::Repair, When::Within7Days},
                        {40.0, Grade::Repair, When::Within7Days},
                        {40.5, Grade::Danger, When::BeforeSupplyReturns},
                        {120.0, Grade::Danger, When::BeforeSupplyReturns}};
    for (const Row& row : rows) {
        INFO(row.rise_K << " K");
        const auto v = verdict_in(rules::rise(joint(row.rise_K), set));
        CHECK(v.grade == row.grade);
        CHECK(v.when == row.when);
        CHECK(v.source.clause == "Table 100.18");
        CHECK(v.source.sure == "read");
    }
}

TEST_CASE("joint over its twin: bands of NETA MTS Table 100.18, read") {
    const auto set = shipped_limits("neta-mts-100-18");
    struct Row {
        double difference_K;
        Grade grade;
    };
    // Printed bands 1-3, 4-15, above 15 K. The joint itself is 16 K over ambient only in the last row.
    const Row rows[] = {{0.5, Grade::Sound},  {1.0, Grade::Watch},  {3.0, Grade::Watch},
                        {3.5, Grade::Repair}, {4.0, Grade::Repair}, {15.0, Grade::Repair},
                        {15.5, Grade::Danger}};
    for (const Row& row : rows) {
        INFO(row.difference_K << " K");
        // A twin below ambient by less than the thermometer's error keeps the ambient band out of the way.
        auto r = joint(row.difference_K < 5.0 ? 0.5 : row.difference_K, row.difference_K);
        const auto v = verdict_in(rules::rise(r, set));
        CHECK(v.grade == row.grade);
    }
}

TEST_CASE("joint: the worse of the two columns counts") {
    const auto set = shipped_limits("neta-mts-100-18");
    CHECK(verdict_in(rules::rise(joint(35.0, 2.0), set)).when == When::Within7Days);
    CHECK(verdict_in(rules::rise(joint(35.0, 16.0), set)).grade == Grade::Danger);
    CHECK(verdict_in(rules::rise(joint(8.0, 4.0), set)).grade == Grade::Repair);
}

TEST_CASE("joint: rise brought to rated current, from memory: dT2 = dT1 (I2/I1)^n, n 1.6 to 2") {
    // Arithmetic: 10 K at half load is 40 K with n = 2 and 10 * 2^1.6 = 30.314 K with n = 1.6.
    CHECK(*rules::rise_at_rated_K(10.0, 50.0, 100.0, 2.0) == Approx(40.0));
    CHECK(*rules::rise_at_rated_K(10.0, 50.0, 100.0, 1.6) == Approx(30.3143).margin(1e-4));
    CHECK(!rules::rise_at_rated_K(10.0, 0.0, 100.0, 2.0));
    CHECK(!rules::rise_at_rated_K(10.0, 50.0, 100.0, 2.1));

    auto set = shipped_limits("neta-mts-100-18");
    const auto v = verdict_in(rules::rise(joint(10.1, std::nullopt, kRated_A / 2), set));
    CHECK(v.grade == Grade::Danger);
    CHECK(tests::working(v, "work.joints.rise_at_rated") == Approx(40.4));
    for (auto& limit : set.limits) {
        if (limit.name == "load.exponent") {
            limit.value.value = 1.6;
        }
    }
    CHECK(verdict_in(rules::rise(joint(10.1, std::nullopt, kRated_A / 2), set)).grade == Grade::Repair);
    for (auto& limit : set.limits) {
        if (limit.name == "load.exponent") {
            limit.value.value = 2.5;
        }
    }
    CHECK(refusal_in(rules::rise(joint(10.0), set)) == "no.joints.exponent");
}

TEST_CASE("joint: above rated current the measured rise stands") {
    const auto set = shipped_limits("neta-mts-100-18");
    CHECK(verdict_in(rules::rise(joint(41.0, std::nullopt, 2 * kRated_A), set)).grade == Grade::Danger);
}

TEST_CASE("joint: below 40 % load a cool picture is no verdict, a hot one is") {
    const auto set = shipped_limits("neta-mts-100-18");
    CHECK(refusal_in(rules::rise(joint(5.0, 0.0, 0.39 * kRated_A), set)) == "no.joints.low_load");
    CHECK(refusal_in(rules::rise(joint(0.0, 0.0, 0.0), set)) == "no.joints.low_load");
    CHECK(refusal_in(rules::rise(joint(5.0, 0.0, 0.41 * kRated_A), set)).empty());
    CHECK(verdict_in(rules::rise(joint(25.0, 0.0, 0.2 * kRated_A), set)).grade == Grade::Repair);
    CHECK(verdict_in(rules::rise(joint(45.0, 0.0, 0.2 * kRated_A), set)).grade == Grade::Danger);
}

TEST_CASE("joints of three phases: each against the coolest twin, with its own current") {
    const auto set = shipped_limits("neta-mts-100-18");
    auto all = rules::rise_by_phase({{40.0, 42.0, 60.0}, {139.0, 139.0, 139.0}, 35.0, 139.0}, set);
    CHECK(verdict_in(all[0]).grade == Grade::Watch);
    CHECK(tests::working(verdict_in(all[1]), "work.joints.over_twin") == Approx(2.0));
    CHECK(verdict_in(all[2]).grade == Grade::Danger);
    CHECK(tests::working(verdict_in(all[2]), "work.joints.over_twin") == Approx(20.0));
    // A phase with half the current is expected to be at a quarter of the rise: 5 K there is 20 K here.
    all = rules::rise_by_phase({{40.0, 45.0, 55.0}, {69.5, 139.0, 139.0}, 35.0, 139.0}, set);
    CHECK(tests::working(verdict_in(all[2]), "work.joints.over_twin") == Approx(10.0));
    // A lightly loaded phase serves nobody as twin.
    all = rules::rise_by_phase({{35.0, 45.0, 45.0}, {20.0, 139.0, 139.0}, 35.0, 139.0}, set);
    CHECK(refusal_in(all[0]) == "no.joints.low_load");
    CHECK(tests::working(verdict_in(all[1]), "work.joints.over_twin") == Approx(0.0));
    // One unreadable phase must not pass silently.
    all = rules::rise_by_phase(
        {{40.0, 45.0, std::numeric_limits<double>::quiet_NaN()}, {139.0, 139.0, 139.0}, 35.0, 139.0}, set);
    CHECK(!refusal_in(all[0]).empty());
}

TEST_CASE("resistance between phases: more than 50 % of the lowest, NETA MTS, from memory") {
    const auto set = shipped_limits("neta-mts-contact");
    CHECK(verdict_in(rules::resistance_between_phases({{22.0, 25.0, 33.0}}, set)).grade == Grade::Sound);
    CHECK(verdict_in(rules::resistance_between_phases({{22.0, 25.0, 33.1}}, set)).grade == Grade::Repair);
    // Published pair: a good bar joint 22 µΩ, a badly made one 185 µΩ (read); 185 µΩ at 400 A makes 29.6 W.
    const auto v = verdict_in(rules::resistance_between_phases({{22.0, 22.0, 185.0}}, set));
    CHECK(v.grade == Grade::Repair);
    CHECK(v.source.sure == "from memory");
    CHECK(rules::joint_heat_W(400.0, 185.0) == Approx(29.6));
}

TEST_CASE("joints: impossible numbers give no verdict") {
    const auto set = shipped_limits("neta-mts-100-18");
    const auto spread = shipped_limits("neta-mts-contact");
    const double bad[] = {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                          -std::numeric_limits<double>::infinity(), 1e9, -100.0};
    for (const double x : bad) {
        INFO(x);
        for (int field = 0; field < 5; ++field) {
            auto r = joint(10.0, 1.0);
            (field == 0   ? r.joint_C
             : field == 1 ? *r.twin_C
             : field == 2 ? r.ambient_C
             : field == 3 ? r.current_A
                          : r.rated_A) = x;
            CHECK(!refusal_in(rules::rise(r, set)).empty());
        }
        CHECK(!refusal_in(rules::resistance_between_phases({{20.0, x, 20.0}}, spread)).empty());
    }
    CHECK(refusal_in(rules::rise(joint(-5.1), set)) == "no.joints.cooler_than_air");
    CHECK(verdict_in(rules::rise(joint(-4.9), set)).grade == Grade::Sound);
    CHECK(!refusal_in(rules::resistance_between_phases({{20.0, 0.0, 20.0}}, spread)).empty());
    CHECK(refusal_in(rules::rise(joint(10.0), spread)) == "no.limit_missing");
}

TEST_CASE("joints: hotter, or as hot at less current, never grades better") {
    const auto set = shipped_limits("neta-mts-100-18");
    std::mt19937 random(11);
    std::uniform_real_distribution<double> rise(0.0, 60.0), share(0.4, 1.3);
    for (int i = 0; i < 2000; ++i) {
        const double low = rise(random), more = rise(random);
        const double high_share = share(random), low_share = 0.4 + (high_share - 0.4) * share(random) / 1.3;
        const auto good = std::get<model::Verdict>(rules::rise(joint(low, low / 2, high_share * 139.0), set));
        const auto bad = std::get<model::Verdict>(
            rules::rise(joint(low + more, (low + more) / 2, low_share * 139.0), set));
        REQUIRE(bad.grade >= good.grade);
    }
}
