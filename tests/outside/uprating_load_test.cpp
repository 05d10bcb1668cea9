// Load figures of a day, and the next ratings under it, against derived values.
#include "checklist/rules/uprating_demand.hpp"
#include "checklist/rules/uprating_rating.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <cmath>

using namespace crossarm;
using tests::shipped_limits;

namespace {

// Made-up shares of 100 kVA, hour by hour; what follows from them is derived with a script of its own.
const std::vector<double> kDay = {.45, .40, .38, .37, .38, .45, .60,  .75,  .80,  .80,  .78, .80,
                                  .85, .82, .80, .80, .85, 1.0, 1.25, 1.35, 1.30, 1.10, .80, .60};

std::vector<rules::LoadSample> week() {
    std::vector<rules::LoadSample> samples;
    const double full_A = 100'000.0 / (std::sqrt(3.0) * 433.0);
    for (int hour = 0; hour < 168; ++hour) {
        const double x = full_A * kDay[static_cast<std::size_t>(hour % 24)];
        samples.push_back({{1'795'564'800'000 + hour * 3'600'000LL, 0}, {x, x, x}, std::nullopt});
    }
    return samples;
}

} // namespace

TEST_CASE("load factor and loss-load factor of a week of equal days") {
    rules::DemandReadings r;
    r.samples = week();
    const auto d = rules::demand(r);
    REQUIRE(d);
    CHECK(*d->load_factor == Approx(0.5704).margin(0.0001));      // derived
    CHECK(*d->loss_load_factor == Approx(0.3686).margin(0.0001)); // derived; 0.3/0.7 would give 0.3988
    CHECK(d->now_kVA == Approx(135.0));
    CHECK(d->neutral_A == Approx(0.0).margin(1e-9));
    REQUIRE(d->day.size() == 24);
    CHECK(d->day[19] == Approx(1.0));
    CHECK(d->day[3] == Approx(0.37 / 1.35));
}

TEST_CASE("the same day on the next ratings: hot-spot and ageing") {
    // Derived, IEC 60076-7 distribution set, 32 °C: 100 kVA 134.1 °C and 5.287; 160 kVA 85.21 °C and 0.0405;
    // 200 kVA 72.40 °C and 19.9 min of life a day.
    rules::RatingFacts f;
    f.present_kVA = 100;
    f.now_kVA = f.horizon_kVA = 135;
    for (const double x : kDay) {
        f.day.push_back(x / 1.35);
    }
    f.ambient_C = 32;
    f.thermal = *rules::thermal_facts(shipped_limits("iec60076-7-distribution"));
    const auto ratings = shipped_limits("iec60076-1-ratings");
    const auto planning = shipped_limits("uprating-planning-practice");
    const auto loading = shipped_limits("iec60076-7-2005-table-4");
    const auto rows = rules::rating_rows(f, {ratings, planning, loading});
    REQUIRE(rows);
    struct Row {
        double rating_kVA, hot_spot_C, top_oil_C, ageing;
    };
    for (const Row& e :
         {Row{100, 134.08, 99.08, 5.287}, Row{160, 85.21, 68.71, 0.0405}, Row{200, 72.40, 60.85, 0.01382}}) {
        for (const auto& row : *rows) {
            if (row.rating_kVA == e.rating_kVA) {
                INFO(e.rating_kVA << " kVA");
                CHECK(*row.hot_spot_C == Approx(e.hot_spot_C).margin(0.02));
                CHECK(*row.top_oil_C == Approx(e.top_oil_C).margin(0.02));
                CHECK(*row.ageing == Approx(e.ageing).epsilon(0.03)); // stretches of ten minutes
            }
        }
    }
    const auto choice = rules::choose_rating(*rows);
    REQUIRE(choice.chosen != nullptr);
    CHECK(choice.chosen->rating_kVA == 160);
    CHECK(choice.smaller->rating_kVA == 125);
    CHECK(choice.larger->rating_kVA == 200);
}

TEST_CASE("neutral current of an unbalanced peak") {
    // Derived: √(A² + B² + C² - AB - BC - CA).
    struct Row {
        std::array<double, 3> phase_A;
        double neutral_A;
    };
    for (const Row& row : {Row{{100, 100, 100}, 0}, Row{{100, 0, 0}, 100}, Row{{100, 100, 0}, 100},
                           Row{{100, 80, 60}, 34.64}, Row{{200, 150, 120}, 70.0}}) {
        rules::DemandReadings r;
        r.samples = {{{}, row.phase_A, std::nullopt}};
        CHECK(rules::demand(r)->neutral_A == Approx(row.neutral_A).margin(0.006));
    }
}

TEST_CASE("diversity: the sum of single peaks over their common peak") {
    // Textbook definition, from memory: 10 houses of 8 kVA with a demand factor of 0.6 and a diversity of 2.4
    // make 20 kVA together.
    rules::DemandReadings r;
    r.loads = {{"houses", 80, 0.6, 2.4, false}};
    CHECK(rules::demand(r)->now_kVA == Approx(20.0));
    r.loads.push_back({"more houses", 80, 0.6, 2.4, true});
    r.growth_percent = 10;
    r.horizon_years = 2;
    CHECK(rules::demand(r)->horizon_kVA == Approx(20.0 * 1.21 + 20.0));
}
