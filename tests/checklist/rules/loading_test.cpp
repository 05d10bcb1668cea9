#include "checklist/rules/loading.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using rules::LossFacts;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

const double kBad[] = {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                       -std::numeric_limits<double>::infinity(), -1.0, 1e9};

} // namespace

TEST_CASE("share of rating: grades on the borders of the set") {
    const auto set = shipped_limits("load-share-practice");
    const double rated_A = *rules::full_load_A(100.0, 433.0);
    const auto at = [&](double percent) {
        const double a = rated_A * percent / 100.0;
        return verdict_in(rules::load({{a, a, a}, {}, 100.0, 433.0}, set)).grade;
    };
    CHECK(at(79.9) == Grade::Sound);
    CHECK(at(80.1) == Grade::Watch);
    CHECK(at(99.9) == Grade::Watch);
    CHECK(at(100.1) == Grade::Repair);
    CHECK(at(149.9) == Grade::Repair);
    CHECK(at(150.1) == Grade::Danger);
    CHECK(at(0.0) == Grade::Sound);
}

TEST_CASE("share of rating: the most loaded phase counts, and unbalance is said") {
    const auto set = shipped_limits("load-share-practice");
    const auto v = verdict_in(rules::load({{90.0, 50.0, 40.0}, 45.0, 100.0, 433.0}, set));
    CHECK(v.grade == Grade::Watch);
    CHECK(v.because.key == "because.loading.unbalanced");
    CHECK(tests::working(v, "work.loading.unbalance") == Approx(50.0));
    // A² + B² + C² - AB - BC - CA by hand: 2100.
    CHECK(tests::working(v, "work.loading.neutral_equal") == Approx(std::sqrt(2100.0)));
    CHECK(refusal_in(rules::load({{90.0, 50.0, 40.0}, 200.0, 100.0, 433.0}, set)) == "no.loading.neutral");
}

TEST_CASE("supply voltage: EN 50160 as summarised, 230 V within 10 %, and a lost neutral") {
    const auto set = shipped_limits("en50160-voltage");
    CHECK(verdict_in(rules::supply_voltage({{207.0, 230.0, 253.0}}, set)).grade == Grade::Sound);
    CHECK(verdict_in(rules::supply_voltage({{206.9, 230.0, 240.0}}, set)).grade == Grade::Repair);
    CHECK(verdict_in(rules::supply_voltage({{230.0, 230.0, 253.1}}, set)).grade == Grade::Repair);
    CHECK(verdict_in(rules::supply_voltage({{160.0, 230.0, 310.0}}, set)).grade == Grade::Danger);
    // Indian Electricity Rules 1956, rule 54, from memory: 240 V within 6 %.
    const auto india = shipped_limits("india-lv-6-percent");
    CHECK(india.value("voltage.low", model::Unit::Volt) == Approx(240.0 * 0.94));
    CHECK(india.value("voltage.high", model::Unit::Volt) == Approx(240.0 * 1.06));
}

TEST_CASE("voltage unbalance: each set by its own definition") {
    const auto nema = shipped_limits("nema-mg-1-unbalance");
    CHECK(verdict_in(rules::voltage_unbalance({480.0, 476.0, 472.0}, nema)).grade == Grade::Sound);
    CHECK(verdict_in(rules::voltage_unbalance({460.0, 467.0, 450.0}, nema)).grade == Grade::Watch);
    CHECK(verdict_in(rules::voltage_unbalance({460.0, 467.0, 400.0}, nema)).grade == Grade::Repair);
    // NEMA MG-1, read: derate above 1 %, do not run above 5 %. One phase off by x % is x % by its definition.
    const auto off = [&](double percent) {
        return verdict_in(rules::voltage_unbalance(
                              {400.0 + 4.0 * percent, 400.0 - 2.0 * percent, 400.0 - 2.0 * percent}, nema))
            .grade;
    };
    CHECK(off(0.99) == Grade::Sound);
    CHECK(off(1.01) == Grade::Watch);
    CHECK(off(4.99) == Grade::Watch);
    CHECK(off(5.01) == Grade::Repair);
    const auto en = shipped_limits("en50160-unbalance");
    const auto v = verdict_in(rules::voltage_unbalance({460.0, 467.0, 450.0}, en));
    CHECK(v.grade == Grade::Watch);
    CHECK(tests::working(v, "work.loading.unbalance_factor") == Approx(2.146).margin(0.0006));
}

TEST_CASE("loading: impossible numbers give no verdict") {
    const auto set = shipped_limits("load-share-practice");
    const LossFacts good{100.0, 100.0, 1500.0, 4.5};
    for (const double x : kBad) {
        INFO(x);
        CHECK(!refusal_in(rules::load({{x, 10.0, 10.0}, {}, 100.0, 433.0}, set)).empty());
        CHECK(!refusal_in(rules::load({{10.0, 10.0, 10.0}, x, 100.0, 433.0}, set)).empty());
        CHECK(!refusal_in(rules::load({{10.0, 10.0, 10.0}, {}, x, 433.0}, set)).empty());
        CHECK(!refusal_in(rules::load({{10.0, 10.0, 10.0}, {}, 100.0, x}, set)).empty());
        CHECK(!refusal_in(rules::supply_voltage({{230.0, x, 230.0}}, shipped_limits("en50160-voltage")))
                   .empty());
        CHECK(!refusal_in(rules::voltage_unbalance({x, 400.0, 400.0}, shipped_limits("nema-mg-1-unbalance")))
                   .empty());
        CHECK(!rules::full_load_A(x, 433.0));
        CHECK(!rules::unbalance_percent({x, 1.0, 1.0}));
        CHECK(!rules::neutral_with_angles_A({x, 1.0, 1.0}, {0.0, 0.0, 0.0}));
        CHECK(!rules::neutral_worst_A({1.0, 1.0, x}));
        CHECK(!rules::losses_W(good, x));
        CHECK(!rules::regulation(good, x, 0.8));
        CHECK(!rules::regulation(good, 1.0, x));
        CHECK(!rules::regulation({100.0, 100.0, 1500.0, x}, 1.0, 0.8));
        CHECK(!rules::efficiency_percent({x, 100.0, 1500.0, 4.5}, 1.0, 0.8));
        CHECK(!rules::yearly_loss_kWh(good, 1.0, x));
        CHECK(!rules::loss_load_factor(x, 0.3));
    }
    CHECK(!rules::unbalance_percent({0.0, 0.0, 0.0}));
    CHECK(!rules::efficiency_percent(good, 0.0, 0.8));
    CHECK(!rules::regulation({100.0, 100.0, 9000.0, 4.5}, 1.0, 0.8)); // er above Z
    CHECK(!rules::unbalance_factor_percent({100.0, 100.0, 250.0}));   // no triangle
}

TEST_CASE("loading: properties") {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> amps(0.1, 500.0), share(0.05, 1.5), pf(0.3, 1.0);
    const auto set = shipped_limits("load-share-practice");
    for (int i = 0; i < 2000; ++i) {
        const std::array<double, 3> a = {amps(random), amps(random), amps(random)};
        const double equal = *rules::neutral_equal_angles_A(a);
        REQUIRE(equal == Approx(std::sqrt(std::max(0.0, a[0] * a[0] + a[1] * a[1] + a[2] * a[2] -
                                                            a[0] * a[1] - a[1] * a[2] - a[2] * a[0])))
                             .margin(1e-6));
        REQUIRE(equal <= *rules::neutral_worst_A(a) + 1e-9);
        // Unbalance does not change with the unit or with the order of the phases.
        REQUIRE(*rules::unbalance_percent({a[0] * 1000.0, a[1] * 1000.0, a[2] * 1000.0}) ==
                Approx(*rules::unbalance_percent({a[2], a[0], a[1]})));
        // More current in one phase never grades better.
        auto more = a;
        more[static_cast<std::size_t>(i % 3)] *= 1.0 + share(random);
        const auto before = std::get<model::Verdict>(rules::load({a, {}, 250.0, 433.0}, set)).grade;
        const auto later = std::get<model::Verdict>(rules::load({more, {}, 250.0, 433.0}, set)).grade;
        if (before >= Grade::Repair) {
            REQUIRE(later >= before);
        }
        // The two-term drop is near the exact one, and no machine is perfect.
        const LossFacts facts{250.0, 600.0, 3000.0, 4.0};
        const double n = share(random), cos = pf(random);
        const auto r = rules::regulation(facts, n, cos);
        REQUIRE(r->two_term_percent == Approx(r->exact_percent).margin(0.02));
        REQUIRE(*rules::efficiency_percent(facts, n, cos) < 100.0);
        REQUIRE(*rules::efficiency_percent(facts, n, cos) <=
                *rules::efficiency_percent(facts, *rules::best_share(facts), cos) + 1e-12);
    }
}
