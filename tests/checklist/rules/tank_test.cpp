// The tank: level, loss, leaks.
#include "checklist/rules/tank.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <cmath>
#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using rules::LeakReadings;
using rules::LevelReadings;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

TEST_CASE("the level is expected where the oil's temperature puts it") {
    // Marks at -5 °C and 90 °C: IS 1180-1:2014, from memory. 0.368 at 30 °C and 0.684 at 60 °C: derived, to
    // three decimals.
    const auto gauge = shipped_limits("oil-level-is1180");
    CHECK(std::abs(*rules::expected_level_percent(30, gauge) - 36.8) < 0.05);
    CHECK(std::abs(*rules::expected_level_percent(60, gauge) - 68.4) < 0.05);
    CHECK(rules::expected_level_percent(-5, gauge) == 0.0);
    CHECK(rules::expected_level_percent(90, gauge) == 100.0);
    CHECK(rules::expected_level_percent(-20, gauge) == 0.0);
    CHECK(rules::expected_level_percent(120, gauge) == 100.0);
    CHECK_FALSE(rules::expected_level_percent(std::nan(""), gauge));
}

TEST_CASE("oil expands as published") {
    // 0.0007 per kelvin, 100 K are about 7 %; an expansion vessel holds 9 % to 10 % of the volume: a
    // published page on the density of transformer oil, read. Between -5 °C and 90 °C: 6.65 % to 7.13 %,
    // derived.
    auto gauge = shipped_limits("oil-level-is1180");
    CHECK(*gauge.value("expansion", model::Unit::One) * 100.0 == Approx(0.07));
    CHECK(*rules::litres_between_marks(1000, gauge) == Approx(66.5));
    for (auto& limit : gauge.limits) {
        if (limit.name == "expansion") {
            limit.value.value = 7.5e-4;
        }
    }
    CHECK(*rules::litres_between_marks(1000, gauge) == Approx(71.25));
    CHECK(*rules::litres_between_marks(1000, gauge) < 90.0); // fits into the vessel
}

TEST_CASE("a low level in cold oil is no loss, in hot oil it is") {
    // A published maintenance manual: read the oil temperature first, then judge the level.
    const auto gauge = shipped_limits("oil-level-is1180");
    CHECK(verdict_in(rules::level({30, 25, 150}, gauge)).grade == Grade::Sound);
    const auto hot = verdict_in(rules::level({30, 70, 150}, gauge));
    CHECK(hot.grade == Grade::Repair);
    // 78.9 % expected, 48.9 points missing of 9.975 L: 4.88 L; derived.
    CHECK(std::abs(tests::working(hot, "work.tank.top_up") - 4.88) < 0.01);
    CHECK(verdict_in(rules::level({0, 0, 150}, gauge)).grade == Grade::Danger);
    CHECK(verdict_in(rules::level({100, 25, 150}, gauge)).because.key == "tank.level.too_high");
    // 10 and 25 points: common practice, no source.
    CHECK(verdict_in(rules::level({50, 52, {}}, gauge)).grade == Grade::Sound);
    CHECK(verdict_in(rules::level({49, 52, {}}, gauge)).grade == Grade::Watch);
    CHECK(verdict_in(rules::level({34, 52, {}}, gauge)).grade == Grade::Repair);
}

TEST_CASE("drops a minute become litres a day and days to the low mark") {
    const auto leak = shipped_limits("oil-leak-practice");
    const auto gauge = shipped_limits("oil-level-is1180");
    // 0.05 mL a drop: common practice, no source. 10 a minute are 0.72 L a day; derived.
    CHECK(*rules::leak_litres_per_day(10, leak) == Approx(0.72));
    // 150 L: 9.975 L between the marks, half of it at 42.5 °C. Cooling to 10 °C takes 3.41 L; 1.575 L are
    // left.
    CHECK(*rules::days_to_low_mark({50, 42.5, 150}, 0.72, 10, gauge) == Approx(1.575 / 0.72));
    // At the marks' own low temperature every lost drop counts: nothing is left.
    CHECK(*rules::days_to_low_mark({50, 42.5, 150}, 0.72, -5, gauge) == Approx(0.0).margin(1e-9));
    CHECK_FALSE(rules::days_to_low_mark({50, 42.5, 150}, 0.0, 10, gauge));
    CHECK_FALSE(rules::days_to_low_mark({50, 42.5, {}}, 0.72, 10, gauge));
}

TEST_CASE("leaks are graded in the published order, and sooner where the low mark is near") {
    // GB regulator's asset index methodology 2021, tables 55 and 81: weeping and droplets need maintenance,
    // pools are the worst step.
    const auto leak = shipped_limits("oil-leak-practice");
    const auto gauge = shipped_limits("oil-level-is1180");
    CHECK(verdict_in(rules::leak({0, {}, 10}, leak, gauge)).grade == Grade::Watch);
    CHECK(verdict_in(rules::leak({1, {}, 10}, leak, gauge)).grade == Grade::Repair);
    CHECK(verdict_in(rules::leak({120, {}, 10}, leak, gauge)).grade == Grade::Danger);
    const auto slow = verdict_in(rules::leak({0.5, LevelReadings{60, 30, 400}, 10}, leak, gauge));
    CHECK(slow.when == model::When::Within30Days);
    const auto soon = verdict_in(rules::leak({10, LevelReadings{50, 42.5, 150}, 10}, leak, gauge));
    CHECK(soon.grade == Grade::Repair);
    CHECK(soon.when == model::When::Within7Days);
    const auto now = verdict_in(rules::leak({10, LevelReadings{20, 60, 150}, 10}, leak, gauge));
    CHECK(now.grade == Grade::Danger);
    CHECK(now.when == model::When::BeforeSupplyReturns);
}

TEST_CASE("impossible tanks give no verdict, and less oil or more drops is never graded better") {
    const auto leak = shipped_limits("oil-leak-practice");
    const auto gauge = shipped_limits("oil-level-is1180");
    for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(), -21.0, 1e6}) {
        CHECK(refusal_in(rules::level({bad, 30, 150}, gauge)) == "tank.impossible");
        CHECK(refusal_in(rules::level({50, bad, 150}, gauge)) == "tank.impossible");
        CHECK(refusal_in(rules::level({50, 30, bad}, gauge)) == "tank.impossible");
        CHECK(refusal_in(rules::leak({bad, {}, 10}, leak, gauge)) == "tank.impossible");
        CHECK(refusal_in(rules::leak({1, {}, bad}, leak, gauge)) == "tank.impossible");
        CHECK(refusal_in(rules::leak({1, LevelReadings{bad, 30, 150}, 10}, leak, gauge)) ==
              "tank.impossible");
    }
    CHECK(refusal_in(rules::level({50, 30, 150}, leak)) == "tank.no_limit");
    CHECK(refusal_in(rules::leak({1, {}, 10}, gauge, gauge)) == "tank.no_limit");
    std::mt19937 random(1180);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    const auto level_grade = [&](double percent, double oil_C) {
        return std::get<model::Verdict>(rules::level({percent, oil_C, 150}, gauge)).grade;
    };
    for (int i = 0; i < 2000; ++i) {
        const double oil_C = -5.0 + 95.0 * share(random);
        // Below the expected level: above it, more oil is the worse side.
        const double a = *rules::expected_level_percent(oil_C, gauge) * share(random);
        const double b = a * share(random);
        CHECK(level_grade(b, oil_C) >= level_grade(a, oil_C));
        const double drops = 300.0 * share(random);
        const LevelReadings now{100.0 * share(random), 60.0 * share(random), 50.0 + 500.0 * share(random)};
        const auto some = std::get<model::Verdict>(rules::leak({drops, now, 10}, leak, gauge));
        const auto more =
            std::get<model::Verdict>(rules::leak({drops + 100.0 * share(random), now, 10}, leak, gauge));
        CHECK(more.grade >= some.grade);
        CHECK(*more.when <= *some.when);
    }
}
