// The breather: breathing, life of the gel, regeneration, oil cup.
#include "checklist/rules/breather.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <cmath>
#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using rules::BreathReadings;
using rules::GelLifeReadings;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

constexpr model::Date kToday{20'500}; // a day in 2026

BreathReadings humid(double oil_litres) {
    return {oil_litres, 15, 25, 30, 80};
}

} // namespace

TEST_CASE("water in the air follows the published figures") {
    // 30 °C, 80 %: 24.2 g/m³ (given to one decimal). Saturation 17.3 g/m³ at 20 °C and 4.85 g/m³ at 0 °C:
    // steam tables, from memory; the formula keeps within 1 %.
    CHECK(std::abs(rules::water_in_air_g_m3(30, 80) - 24.2) < 0.1);
    CHECK(std::abs(rules::water_in_air_g_m3(20, 100) / 17.3 - 1.0) < 0.01);
    CHECK(std::abs(rules::water_in_air_g_m3(0, 100) / 4.85 - 1.0) < 0.01);
}

TEST_CASE("a day's breath is the oil's swing in volume") {
    // Derived with 7.5e-4 per kelvin and 40 K: 150 L breathe 4.5 L, 60 L 1.8 L, 500 L 15 L; 0.109 g of water.
    const auto practice = shipped_limits("breathing-practice");
    for (const auto& [oil, air] : {std::pair(150.0, 4.5), std::pair(60.0, 1.8), std::pair(500.0, 15.0)}) {
        CHECK(rules::breath_of_a_day(humid(oil), practice)->air_litres == Approx(air));
    }
    CHECK(std::abs(rules::breath_of_a_day(humid(150), practice)->water_g - 0.109) < 0.0005);
}

TEST_CASE("half a kilogram of gel lasts some 918 full breaths of 150 litres of oil") {
    // Derived: 500 g at 20 % working share are 100 g of water. 24.2 g/m³ was rounded: 0.5 %.
    const auto practice = shipped_limits("breathing-practice");
    CHECK(rules::gel_capacity_percent(80, practice) == 20.0);
    CHECK(rules::gel_for_days(humid(150), 918, practice).value() == Approx(0.5).epsilon(0.005));
}

TEST_CASE("uptake of gel follows the published weighings") {
    // A published weighing of 500 g of dry gel: 67 g at 24 %, 144 g at about 50 % to 55 %, 165 g at about 65
    // % humidity; supplier's chart 27 % at 50 %, 32 % at 65 %. The humidities are rounded: 2 points of
    // uptake.
    auto practice = shipped_limits("breathing-practice");
    for (auto& limit : practice.limits) {
        if (limit.name == "gel.capacity") {
            limit.value.value = 50.0; // let the equilibrium show
        }
    }
    CHECK(std::abs(*rules::gel_capacity_percent(24, practice) - 100.0 * 67 / 500) < 0.1);
    CHECK(std::abs(*rules::gel_capacity_percent(52.5, practice) - 100.0 * 144 / 500) < 2.0);
    CHECK(std::abs(*rules::gel_capacity_percent(65, practice) - 100.0 * 165 / 500) < 2.0);
    CHECK(std::abs(*rules::gel_capacity_percent(50, practice) - 27.07) <
          0.1); // a museum's appendix, second hand
    double last = 0.0;
    for (int humidity = 0; humidity <= 100; ++humidity) {
        const double now = *rules::gel_capacity_percent(humidity, practice);
        CHECK(now >= last);
        last = now;
    }
}

TEST_CASE("gel by rating") {
    // Indian standard specification of distribution transformers: 0.5 kg up to 200 kVA, 1 kg above; from
    // memory.
    const auto practice = shipped_limits("breathing-practice");
    CHECK(rules::gel_for_rating(200, practice) == 0.5);
    CHECK(rules::gel_for_rating(200.1, practice) == 1.0);
    CHECK_FALSE(rules::gel_for_rating(std::nan(""), practice));
    CHECK_FALSE(rules::gel_for_rating(4, practice));
}

TEST_CASE("days until the gel is exchanged, and the date of that visit") {
    const auto gel = shipped_limits("gel-practice");
    const auto practice = shipped_limits("breathing-practice");
    GelLifeReadings r{humid(150), 0.5, 0.0, {}, "blue"};
    const auto fresh = verdict_in(rules::gel_life(r, kToday, gel, practice));
    CHECK(fresh.grade == Grade::Sound);
    CHECK(tests::working(fresh, "work.breather.days") == Approx(459).epsilon(0.005)); // half of 918, derived
    r.spent_percent = 30;
    const auto used = verdict_in(rules::gel_life(r, kToday, gel, practice));
    CHECK(used.grade == Grade::Watch); // 20 % of 918 days left
    const std::string by = model::for_people(model::Date{kToday.days + 183});
    CHECK(tests::shipped_words().say(used.because).find(by) != std::string::npos);
    r.spent_percent = 50;
    CHECK(verdict_in(rules::gel_life(r, kToday, gel, practice)).grade == Grade::Repair);
    r.spent_percent = 0;
    r.breath.humidity_percent = 0; // dry air spends no gel; it is looked at in the end all the same
    CHECK(tests::working(verdict_in(rules::gel_life(r, kToday, gel, practice)), "work.breather.days") ==
          1825.0);
}

TEST_CASE("gel gone in weeks means a leak or an empty cup, not damp weather") {
    const auto gel = shipped_limits("gel-practice");
    const auto practice = shipped_limits("breathing-practice");
    GelLifeReadings r{humid(150), 0.5, 40.0, 30.0, "blue"};
    auto said = verdict_in(rules::gel_life(r, kToday, gel, practice));
    CHECK(said.grade == Grade::Repair);
    CHECK(said.because.key == "breather.life.leak");
    r.days_since_change = 300.0; // 0.133 % a day against 0.109 % worked out: as it should be
    said = verdict_in(rules::gel_life(r, kToday, gel, practice));
    CHECK(said.because.key == "breather.life.lasts");
    r.spent_percent = 5; // too little to be read off the glass
    r.days_since_change = 5.0;
    CHECK(verdict_in(rules::gel_life(r, kToday, gel, practice)).because.key == "breather.life.lasts");
}

TEST_CASE("gel is dried where published instructions agree") {
    const auto set = shipped_limits("gel-regeneration");
    // Makers and suppliers: 150 to 200, 130 to 145, 149 at most, damage above 163 °C. Common ground kept.
    const auto blue = rules::regenerate("blue", 3, set);
    REQUIRE(blue);
    CHECK(blue->low_C >= 130.0);
    CHECK(blue->high_C <= 149.0);
    CHECK(blue->low_hours == 2.0);
    CHECK(blue->high_hours == 3.0);
    CHECK(blue->times_left == 7); // common practice, no source
    CHECK(blue->cautions.front().key == "breather.caution.cobalt");
    const auto orange = rules::regenerate("orange", 99, set);
    REQUIRE(orange);
    CHECK(orange->high_C <= 120.0); // organic dye; from memory
    CHECK(orange->times_left == 0);
    CHECK_FALSE(rules::regenerate("", 0, set));
    CHECK_FALSE(rules::regenerate("none", 0, set));
    CHECK_FALSE(rules::regenerate("blue", -1, set));
}

TEST_CASE("the oil cup is kept filled with clean oil") {
    // Common practice, no source.
    const auto cup = shipped_limits("oil-cup");
    CHECK(verdict_in(rules::oil_cup("at_mark", cup)).grade == Grade::Sound);
    CHECK(verdict_in(rules::oil_cup("low", cup)).grade == Grade::Watch);
    CHECK(verdict_in(rules::oil_cup("dirty", cup)).grade == Grade::Repair);
    CHECK(verdict_in(rules::oil_cup("empty", cup)).grade == Grade::Repair);
    CHECK(refusal_in(rules::oil_cup("half", cup)) == "breather.cup.unknown");
}

TEST_CASE("impossible breathing gives nothing, and damper or hotter air never less water") {
    const auto gel = shipped_limits("gel-practice");
    const auto practice = shipped_limits("breathing-practice");
    for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(), -100.0, 1e6}) {
        for (auto member :
             {&BreathReadings::oil_litres, &BreathReadings::air_swing_K, &BreathReadings::load_swing_K,
              &BreathReadings::air_C, &BreathReadings::humidity_percent}) {
            GelLifeReadings r{humid(150), 0.5, 10, {}, "blue"};
            r.breath.*member = bad;
            CHECK(refusal_in(rules::gel_life(r, kToday, gel, practice)) == "breather.life.impossible");
        }
        CHECK(refusal_in(rules::gel_life({humid(150), bad, 10, {}, "blue"}, kToday, gel, practice)) ==
              "breather.life.impossible");
        CHECK(refusal_in(rules::gel_life({humid(150), 0.5, bad, {}, "blue"}, kToday, gel, practice)) ==
              "breather.life.impossible");
        CHECK(refusal_in(rules::gel_life({humid(150), 0.5, 10, bad, "blue"}, kToday, gel, practice)) ==
              "breather.life.impossible");
    }
    CHECK(refusal_in(rules::gel_life({humid(150), 0.5, 10, {}, "none"}, kToday, gel, practice)) ==
          "breather.none");
    CHECK(refusal_in(rules::gel_life({humid(150), 0.5, 10, {}, "blue"}, kToday, practice, practice)) ==
          "breather.no_limit");
    std::mt19937 random(3401);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    for (int i = 0; i < 1000; ++i) {
        GelLifeReadings r{{10 + 900 * share(random), 20 * share(random), 30 * share(random),
                           -20 + 60 * share(random), 40 + 50 * share(random)},
                          0.1 + share(random),
                          100 * share(random),
                          {},
                          "blue"};
        const auto days = [&](const GelLifeReadings& of) {
            return std::get<model::Verdict>(rules::gel_life(of, kToday, gel, practice));
        };
        const auto some = days(r);
        auto worse = r;
        worse.spent_percent += share(random) * (100.0 - worse.spent_percent);
        CHECK(days(worse).grade >= some.grade);
        worse = r;
        worse.breath.humidity_percent += 10.0;
        worse.breath.air_C += 5.0;
        CHECK(days(worse).grade >= some.grade);
        CHECK(rules::breath_of_a_day(worse.breath, practice)->water_g >=
              rules::breath_of_a_day(r.breath, practice)->water_g);
    }
}
