// Ratings, fuse links, growth, losses, earthing and the facts of the trade.
#include "checklist/rules/uprating_cost.hpp"
#include "checklist/rules/uprating_earth.hpp"
#include "checklist/rules/uprating_fuse.hpp"
#include "checklist/rules/uprating_rating.hpp"
#include "checklist/rules/uprating_study.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/outgrown.hpp"

#include <cmath>

using namespace crossarm;
using tests::shipped_limits;

namespace {

rules::RatingFacts load_of(double now_kVA, double horizon_kVA) {
    rules::RatingFacts f;
    f.present_kVA = 100;
    f.now_kVA = now_kVA;
    f.horizon_kVA = horizon_kVA;
    f.day = std::vector<double>(24, 0.5);
    f.day[19] = 1.0;
    f.thermal = *rules::thermal_facts(shipped_limits("iec60076-7-distribution"));
    return f;
}

std::vector<rules::RatingRow> rows_of(const rules::RatingFacts& f, const char* ratings) {
    const auto sets = std::tuple(shipped_limits(ratings), shipped_limits("uprating-planning-practice"),
                                 shipped_limits("iec60076-7-2005-table-4"));
    const auto rows = rules::rating_rows(f, {std::get<0>(sets), std::get<1>(sets), std::get<2>(sets)});
    REQUIRE(rows);
    return *rows;
}

} // namespace

TEST_CASE("preferred ratings are the R10 series, and the ratings of an efficiency schedule are among them") {
    // ISO 3: 10^(n/10), rounded; from memory. Each value within 1.3 % of the exact power.
    const auto rows = rows_of(load_of(50, 50), "iec60076-1-ratings");
    REQUIRE(rows.size() == 19);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        INFO(rows[i].rating_kVA);
        CHECK(rows[i].rating_kVA ==
              Approx(std::pow(10.0, (static_cast<double>(i) + 12.0) / 10.0)).epsilon(0.013));
    }
    // Second hand: an efficiency schedule for ratings up to 200 kVA.
    for (const double rating : {16.0, 25.0, 63.0, 100.0, 160.0, 200.0}) {
        CHECK(std::any_of(rows.begin(), rows.end(), [&](const auto& r) { return r.rating_kVA == rating; }));
    }
}

TEST_CASE("full-load currents of every preferred rating at 11 kV and 433 V") {
    // Derived, S / (√3 U), to the places given; 100 kVA, 5.25 A and 133 A, read in a public design sheet.
    struct Row {
        double rating_kVA, hv_A, lv_A;
    };
    const Row expected[] = {{16, 0.84, 21.3},     {25, 1.31, 33.3},    {50, 2.62, 66.7},
                            {63, 3.31, 84.0},     {100, 5.25, 133.3},  {160, 8.40, 213.3},
                            {200, 10.50, 266.7},  {250, 13.12, 333.3}, {315, 16.53, 420.0},
                            {400, 20.99, 533.3},  {500, 26.24, 666.7}, {630, 33.07, 840.0},
                            {1000, 52.49, 1333.4}};
    const auto rows = rows_of(load_of(50, 60), "iec60076-1-ratings");
    for (const Row& e : expected) {
        const auto row = std::find_if(rows.begin(), rows.end(),
                                      [&](const auto& r) { return r.rating_kVA == e.rating_kVA; });
        REQUIRE(row != rows.end());
        INFO(e.rating_kVA << " kVA");
        CHECK(row->hv_A == Approx(e.hv_A).margin(0.0051));
        CHECK(row->lv_A == Approx(e.lv_A).margin(0.051));
        CHECK(row->headroom_now_kVA == Approx(e.rating_kVA - 50.0));
        CHECK(row->headroom_horizon_kVA == Approx(e.rating_kVA - 60.0));
    }
}

TEST_CASE("from 315 to 400 kVA frees 85 kVA") {
    // Common practice, no source.
    const auto rows = rows_of(load_of(315, 315), "iec60076-1-ratings");
    double before = 0.0;
    double after = 0.0;
    for (const auto& row : rows) {
        before = row.rating_kVA == 315 ? row.headroom_now_kVA : before;
        after = row.rating_kVA == 400 ? row.headroom_now_kVA : after;
    }
    CHECK(after - before == Approx(85.0));
    CHECK(after == Approx(85.0));
}

TEST_CASE("HV links of two utilities, and the window that holds them") {
    // Read: three-phase pole transformers at 11 kV, two utilities, as a public file prints them.
    struct Row {
        const char* set;
        double rating_kVA;
        const char* link;
    };
    const Row rows[] = {
        {"hv-fuse-table-a", 25, "10 K"},  {"hv-fuse-table-a", 50, "20 K"},  {"hv-fuse-table-a", 63, "20 K"},
        {"hv-fuse-table-a", 100, "16 K"}, {"hv-fuse-table-a", 200, "25 K"}, {"hv-fuse-table-a", 315, "31 K"},
        {"hv-fuse-table-a", 500, "50 K"}, {"hv-fuse-table-a", 750, "50 K"}, {"hv-fuse-table-b", 25, "8 T"},
        {"hv-fuse-table-b", 63, "8 T"},   {"hv-fuse-table-b", 100, "16 K"}, {"hv-fuse-table-b", 200, "20 K"},
        {"hv-fuse-table-b", 315, "25 K"}, {"hv-fuse-table-b", 500, "40 K"}, {"hv-fuse-table-b", 750, "50 K"},
        {"hv-fuse-table-b", 1000, "65 K"}};
    for (const Row& row : rows) {
        INFO(row.set << " " << row.rating_kVA << " kVA");
        const auto link = rules::table_link({row.rating_kVA, 11, {}, ""}, shipped_limits(row.set));
        REQUIRE(link);
        CHECK(rules::link_text(*link) == row.link);
        if (row.rating_kVA >= 100 && row.rating_kVA <= 500) {
            // Derived from the same tables: between 1.3 and about 3 times full load.
            const double factor = link->rating_A / (row.rating_kVA / (std::sqrt(3.0) * 11));
            CHECK(factor >= 1.3);
            CHECK(factor <= 3.1);
        }
    }
    CHECK_FALSE(rules::table_link({400, 11, {}, ""}, shipped_limits("hv-fuse-table-a")));
    CHECK_FALSE(rules::table_link({100, 22, {}, ""}, shipped_limits("hv-fuse-table-a")));
    // 400 kVA draws 20.99 A: 27.3 to 63 A, so 30, 40 and 50 K (derived).
    CHECK(rules::window_links(400, 11, shipped_limits("hv-fuse-window")) == std::vector<double>{30, 40, 50});
}

TEST_CASE("growth until a transformer is full") {
    // Derived: ln(1 / u) / ln(1 + g), to the places given.
    struct Row {
        double used, growth_percent, years;
    };
    const Row rows[] = {{0.6, 5, 10.47}, {0.6, 7, 7.55}, {0.6, 10, 5.36},
                        {0.8, 5, 4.57},  {0.8, 7, 3.30}, {0.8, 10, 2.34}};
    for (const Row& row : rows) {
        CHECK(*rules::years_until(row.used * 100, 100, row.growth_percent) ==
              Approx(row.years).margin(0.006));
        CHECK(*rules::grown(row.used * 100, row.growth_percent, row.years) == Approx(100).margin(0.1));
    }
    CHECK(*rules::years_until(120, 100, 3) == 0.0);
    CHECK_FALSE(rules::years_until(80, 100, 0));
}

TEST_CASE("energy lost before and after a replacement") {
    // Derived: peak 110 kVA, loss-load factor 0.35; 100 kVA loses 6542 kWh a year, 200 kVA 4274.
    const auto lost = [](double rating, double no_load, double load) {
        rules::LifeFacts f;
        f.losses = {rating, no_load, load, 4.5};
        f.now_kVA = 110;
        f.loss_load_factor = 0.35;
        f.life_years = 1;
        return rules::life_cost(f)->first_year_kWh;
    };
    CHECK(lost(100, 83.3, 1566.7) == Approx(6542).margin(1.0));
    CHECK(lost(200, 273.3, 2026.7) == Approx(4274).margin(1.0));
    CHECK(*rules::payback_years(2268, 2268, 0.1) == Approx(10));
}

TEST_CASE("two transformers in parallel share by rating over impedance") {
    // Textbook formula, from memory: equal impedances share by rating; with 500 kVA at 5 % beside 500 kVA at
    // 4 % the second is full at 900 kVA together (derived).
    CHECK(*rules::parallel_kVA({200, 4.5}, {100, 4.5}) == Approx(300));
    CHECK(*rules::parallel_share({200, 4.5}, {100, 4.5}) == Approx(2.0 / 3.0));
    CHECK(*rules::parallel_kVA({500, 5}, {500, 4}) == Approx(900));
}

TEST_CASE("k of bare earthing conductors is that of the formula from 30 to 200 degrees") {
    // IEC 60364-5-54, Annex A: formula and constants (steel 78 and 202) from memory.
    const auto set = shipped_limits("iec60364-5-54-earthing");
    struct Row {
        const char* metal;
        double printed, constant, beta;
    };
    for (const Row& row :
         {Row{"copper", 159, 226, 234.5}, Row{"aluminium", 105, 148, 228}, Row{"steel", 58, 78, 202}}) {
        INFO(row.metal);
        const double k = row.constant * std::sqrt(std::log((200 + row.beta) / (30 + row.beta)));
        CHECK(*set.value(std::string("k.") + row.metal, model::Unit::One) == row.printed);
        CHECK(k == Approx(row.printed).margin(0.5));
    }
    // Derived: 13.7 kA for 0.5 s on bare copper asks for 60.9 mm², so 70 mm².
    CHECK(*rules::earth_conductor_mm2({"copper", 13.7, 0.5, {}}, set) == 70.0);
}

TEST_CASE("400 kVA with two 400 A breakers, 300 mm² cable and 95 mm² HV leads") {
    // Common practice, no source. Whether it holds depends on how the cable lies: two runs in air do at
    // 40 °C, one run does not, and neither do two in a dry duct.
    auto facts = tests::outgrown();
    facts.wish = {400.0, rules::Breakers{2, 400.0, 0.0}, rules::Cable{300.0, 2}};
    facts.site.air_C = 40.0;
    const auto grade = [&](const char* check) {
        return tests::verdict_in(
                   tests::check_named(rules::uprating_study(facts, tests::shipped_library()), check))
            .grade;
    };
    CHECK(grade("breaker.asked") == model::Grade::Sound);
    CHECK(grade("cable.asked") == model::Grade::Sound);
    CHECK(grade("hv_lead") == model::Grade::Sound);
    CHECK(grade("short_circuit") == model::Grade::Sound);
    facts.wish.cable = rules::Cable{300.0, 1};
    CHECK(grade("cable.asked") == model::Grade::Repair);
    facts.site.cable_laid = "f"; // single cores in trefoil: 497.8 A of 533.3 at 40 °C, enough at 30 °C
    CHECK(grade("cable.asked") == model::Grade::Repair);
    facts.site.air_C = 30.0;
    CHECK(grade("cable.asked") == model::Grade::Watch);
    facts.wish.cable = rules::Cable{300.0, 2};
    facts.site.cable_laid = "d1";
    facts.site.ground_C = 35.0;
    facts.site.soil_Km_W = 2.5;
    CHECK(grade("cable.asked") == model::Grade::Repair);
}
