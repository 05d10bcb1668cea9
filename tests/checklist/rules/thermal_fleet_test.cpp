#include "checklist/rules/thermal_fleet.hpp"

#include "checklist/rules/powers.hpp"
#include "tests/support/catch.hpp"

#include <cmath>
#include <limits>
#include <random>

using namespace crossarm;
using rules::FleetSeries;
using rules::FleetUnit;

namespace {

const rules::ThermalFacts kDistribution{55.0, 23.0, 5.0, 0.8, 1.6, 1.0, 1.0, 2.0, 180.0, 4.0};
const rules::ThermalFacts kMedium{52.0, 26.0, 6.0, 0.8, 1.3, 0.5, 2.0, 2.0, 210.0, 10.0};

FleetSeries series(std::size_t steps, double step_min) {
    std::mt19937 random(8);
    std::uniform_real_distribution<double> share(0.0, 1.0), ambient(-10.0, 40.0);
    FleetSeries s;
    s.step_min = step_min;
    s.shapes.assign(3, {});
    for (std::size_t t = 0; t < steps; ++t) {
        s.ambient_C.push_back(ambient(random));
        for (auto& shape : s.shapes) {
            shape.push_back(t % 10 == 0 ? 0.0 : share(random));
        }
    }
    return s;
}

std::vector<FleetUnit> units(std::size_t count) {
    std::mt19937 random(9);
    std::uniform_real_distribution<double> peak(0.0, 1.4), offset(-5.0, 5.0);
    std::vector<FleetUnit> all(count);
    for (std::size_t i = 0; i < count; ++i) {
        all[i] = {i % 2 == 0 ? kDistribution : kMedium, peak(random), i % 3,
                  i % 5 == 0 ? rules::Paper::Upgraded : rules::Paper::Normal, offset(random)};
    }
    return all;
}

} // namespace

TEST_CASE("fleet: powers and logarithms to base 2 agree with the C library") {
    std::mt19937_64 random(10);
    std::uniform_real_distribution<double> exponent(-300.0, 300.0), any(-1000.0, 1000.0), near_one(0.5, 2.0);
    double log_worst = 0.0, power_worst = 0.0;
    for (int i = 0; i < 200'000; ++i) {
        const double x = i % 2 == 0 ? std::exp2(exponent(random)) : near_one(random);
        log_worst = std::max(log_worst, std::abs(rules::log_2(x) - std::log2(x)));
        const double y = any(random);
        power_worst = std::max(power_worst, std::abs(rules::power_of_2(y) / std::exp2(y) - 1.0));
    }
    CHECK(log_worst < 1e-12);
    CHECK(power_worst < 1e-13);
    CHECK(rules::log_2(1.0) == 0.0);
    CHECK(rules::power_of_2(0.0) == 1.0);
    CHECK(rules::log_2(rules::kNextToNothing) == Approx(std::log2(1e-30)));
}

TEST_CASE("fleet: the same as one transformer after the other, for any step and any number of units") {
    for (const double step_min : {1.0, 15.0, 60.0, 1440.0}) {
        for (const std::size_t count :
             {std::size_t{1}, std::size_t{127}, std::size_t{128}, std::size_t{300}}) {
            const auto all = units(count);
            const auto load = series(200, step_min);
            const auto plain = rules::run_fleet_plainly(all, load);
            const auto fleet = rules::run_fleet(all, load, 1);
            REQUIRE((plain.ok() && fleet.ok()));
            REQUIRE(fleet->size() == count);
            for (std::size_t i = 0; i < count; ++i) {
                const auto& a = (*plain)[i];
                const auto& b = (*fleet)[i];
                // As promised in the header; the temperatures are near 100 °C.
                REQUIRE(b.end.top_oil_C == Approx(a.end.top_oil_C).margin(1e-7).epsilon(0));
                REQUIRE(b.end.hot_spot_C() == Approx(a.end.hot_spot_C()).margin(1e-7).epsilon(0));
                REQUIRE(b.highest_hot_spot_C == Approx(a.highest_hot_spot_C).margin(1e-7).epsilon(0));
                REQUIRE(b.aged_min == Approx(a.aged_min).epsilon(1e-9));
            }
        }
    }
}

TEST_CASE("fleet: the same to the last bit on one thread and on several") {
    const auto all = units(1000);
    const auto load = series(100, 60.0);
    const auto one = rules::run_fleet(all, load, 1);
    for (const unsigned threads : {2U, 3U, 7U}) {
        const auto more = rules::run_fleet(all, load, threads);
        for (std::size_t i = 0; i < all.size(); ++i) {
            REQUIRE((*one)[i].end == (*more)[i].end);
            REQUIRE((*one)[i].aged_min == (*more)[i].aged_min);
            REQUIRE((*one)[i].highest_hot_spot_C == (*more)[i].highest_hot_spot_C);
        }
    }
}

TEST_CASE("fleet: a repeated day agrees with the profile run at the same grain") {
    // Derived day of the distribution set: 7612.9 min of life a day, hottest 134.08 °C.
    const double share[24] = {.45, .40, .38, .37, .38, .45, .60,  .75,  .80,  .80,  .78, .80,
                              .85, .82, .80, .80, .85, 1.0, 1.25, 1.35, 1.30, 1.10, .80, .60};
    FleetSeries minutes;
    minutes.step_min = 1.0;
    minutes.shapes.resize(1);
    for (int minute = 0; minute < 5 * 1440; ++minute) {
        minutes.shapes[0].push_back(share[minute / 60 % 24]);
        minutes.ambient_C.push_back(32.0);
    }
    const std::vector<FleetUnit> one = {{kDistribution, 1.0, 0, rules::Paper::Normal, 0.0}};
    const auto five = rules::run_fleet(one, minutes, 1);
    minutes.shapes[0].resize(4 * 1440);
    minutes.ambient_C.resize(4 * 1440);
    const auto four = rules::run_fleet(one, minutes, 1);
    CHECK((*five)[0].aged_min - (*four)[0].aged_min == Approx(7612.9).epsilon(0.01));
    CHECK((*five)[0].highest_hot_spot_C == Approx(134.08).margin(0.006));
}

TEST_CASE("fleet: what is impossible is refused whole, with its place") {
    const auto good = units(10);
    const auto load = series(24, 60.0);
    for (const double x : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                           -std::numeric_limits<double>::infinity(), -100.0, 1e9}) {
        INFO(x);
        auto odd = good;
        odd[3].peak_share = x;
        auto refused = rules::run_fleet(odd, load, 1);
        REQUIRE(!refused.ok());
        CHECK(refused.problem().where == "fleet unit 4");
        odd = good;
        odd[9].facts.oil_time_min = x;
        CHECK(rules::run_fleet(odd, load, 1).problem().where == "fleet unit 10");
        odd = good;
        odd[0].ambient_offset_K = x;
        CHECK(!rules::run_fleet(odd, load, 1).ok());
        auto wrong = load;
        wrong.step_min = x;
        CHECK(!rules::run_fleet(good, wrong, 1).ok());
        wrong = load;
        wrong.ambient_C[5] = x;
        CHECK(!rules::run_fleet(good, wrong, 1).ok());
        wrong = load;
        wrong.shapes[2][7] = x;
        CHECK(!rules::run_fleet(good, wrong, 1).ok());
        CHECK(!rules::run_fleet_plainly(good, wrong).ok());
    }
    auto odd = good;
    odd[2].shape = 3;
    CHECK(!rules::run_fleet(odd, load, 1).ok());
    auto wrong = load;
    wrong.shapes[1].pop_back();
    CHECK(!rules::run_fleet(good, wrong, 1).ok());
    CHECK(!rules::run_fleet(good, {}, 1).ok());
    CHECK(!rules::run_fleet(good, load, 0).ok());
    CHECK(rules::run_fleet({}, load, 2)->empty());
    // A load that would bring it to red heat is a wrong rating.
    odd = good;
    odd[1].facts = kMedium;
    odd[1].facts.top_oil_rise_K = 110.0;
    odd[1].peak_share = 3.0;
    wrong = load;
    wrong.shapes[1][3] = 1.0;
    CHECK(!rules::run_fleet(odd, wrong, 1).ok());
}
