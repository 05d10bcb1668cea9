// Dissolved gas: triangle, ratios, typical values, rise.
#include "checklist/rules/oil_gases.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <array>
#include <cmath>
#include <limits>
#include <random>

using namespace crossarm;
using model::Grade;
using rules::Gases;
using rules::GasFault;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

Gases shares(double methane, double ethylene, double acetylene) {
    return {0, methane, 0, ethylene, acetylene, {}, {}};
}

struct Sets {
    model::LimitSet typical = shipped_limits("iec60599-distribution");
    model::LimitSet ratios = shipped_limits("iec60599-2015-ratios");
    model::LimitSet triangle = shipped_limits("gas-triangle-1");
    model::LimitSet meaning = shipped_limits("gas-meaning");
    [[nodiscard]] rules::GasLimits all() const { return {typical, ratios, triangle, meaning}; }
};

struct Corner {
    double methane, ethylene, acetylene;
};

/// Strictly inside, by the sign of the turn on every side; corners in either sense; `gap` is the least
/// distance from a side, in shares.
bool inside(const std::vector<Corner>& corners, const Corner& p, double gap) {
    bool in = false;
    for (std::size_t i = 0, j = corners.size() - 1; i < corners.size(); j = i++) {
        const auto& a = corners[i];
        const auto& b = corners[j];
        if ((a.ethylene > p.ethylene) != (b.ethylene > p.ethylene) &&
            p.acetylene <
                (b.acetylene - a.acetylene) * (p.ethylene - a.ethylene) / (b.ethylene - a.ethylene) +
                    a.acetylene) {
            in = !in;
        }
        const double along = std::hypot(b.acetylene - a.acetylene, b.ethylene - a.ethylene);
        const double turn = (b.acetylene - a.acetylene) * (p.ethylene - a.ethylene) -
                            (b.ethylene - a.ethylene) * (p.acetylene - a.acetylene);
        if (std::abs(turn) < gap * along) {
            return false;
        }
    }
    return in;
}

} // namespace

TEST_CASE("the triangle's zones are the published polygons") {
    // Corners as methane, ethylene, acetylene. PD, T1, D1, D2, DT read in a published drawing of triangle 1;
    // T2 and T3 from memory, forced by their neighbours.
    const std::vector<std::pair<GasFault, std::vector<Corner>>> polygons = {
        {GasFault::PD, {{0.98, 0.02, 0}, {1, 0, 0}, {0.98, 0, 0.02}}},
        {GasFault::T1,
         {{0.76, 0.20, 0.04}, {0.80, 0.20, 0}, {0.98, 0.02, 0}, {0.98, 0, 0.02}, {0.96, 0, 0.04}}},
        {GasFault::D1, {{0, 0, 1}, {0, 0.23, 0.77}, {0.64, 0.23, 0.13}, {0.87, 0, 0.13}}},
        {GasFault::D2,
         {{0, 0.23, 0.77}, {0, 0.71, 0.29}, {0.31, 0.40, 0.29}, {0.47, 0.40, 0.13}, {0.64, 0.23, 0.13}}},
        {GasFault::DT,
         {{0, 0.71, 0.29},
          {0, 0.85, 0.15},
          {0.35, 0.50, 0.15},
          {0.46, 0.50, 0.04},
          {0.96, 0, 0.04},
          {0.87, 0, 0.13},
          {0.47, 0.40, 0.13},
          {0.31, 0.40, 0.29}}},
        {GasFault::T2, {{0.80, 0.20, 0}, {0.76, 0.20, 0.04}, {0.46, 0.50, 0.04}, {0.50, 0.50, 0}}},
        {GasFault::T3, {{0, 0.85, 0.15}, {0, 1, 0}, {0.50, 0.50, 0}, {0.35, 0.50, 0.15}}},
    };
    const auto triangle = shipped_limits("gas-triangle-1");
    std::mt19937 random(60599);
    std::uniform_real_distribution<double> share(0.0, 1.0);
    std::array<int, 7> seen{};
    for (int i = 0; i < 20'000; ++i) {
        const double a = share(random);
        const double b = share(random) * (1.0 - a);
        const Corner p = i % 2 == 0 ? Corner{a, b, 1.0 - a - b} : Corner{1.0 - a - b, b, a};
        int zones = 0;
        for (const auto& [fault, corners] : polygons) {
            if (inside(corners, p, 1e-9)) {
                ++zones;
                ++seen[static_cast<std::size_t>(fault)];
                const auto zone = rules::triangle_zone(shares(p.methane, p.ethylene, p.acetylene), triangle);
                if (zone != fault) {
                    FAIL("zone differs at " << p.methane << " " << p.ethylene << " " << p.acetylene);
                }
            }
        }
        CHECK(zones <= 1); // no two polygons overlap
    }
    for (const int count : seen) {
        CHECK(count > 0);
    }
}

TEST_CASE("a share exactly on a border belongs to the higher side") {
    struct Row {
        double methane, ethylene, acetylene;
        GasFault at;
    };
    // Sums of 100, 700 and 1300 ppm: shares such as 23 % of 1300 are not exact as a quotient.
    const std::vector<Row> rows = {
        {98, 2, 0, GasFault::PD},   {97, 3, 0, GasFault::T1},   {80, 20, 0, GasFault::T2},
        {81, 19, 0, GasFault::T1},  {50, 50, 0, GasFault::T3},  {51, 49, 0, GasFault::T2},
        {76, 20, 4, GasFault::DT},  {77, 20, 3, GasFault::T2},  {35, 50, 15, GasFault::DT},
        {36, 50, 14, GasFault::T3}, {64, 23, 13, GasFault::D2}, {65, 22, 13, GasFault::D1},
        {65, 23, 12, GasFault::DT}, {47, 40, 13, GasFault::DT}, {48, 39, 13, GasFault::D2},
        {31, 40, 29, GasFault::D2}, {32, 40, 28, GasFault::DT}, {0, 71, 29, GasFault::D2},
        {0, 85, 15, GasFault::DT},  {0, 0, 100, GasFault::D1},  {0, 100, 0, GasFault::T3},
        {100, 0, 0, GasFault::PD},  {46, 50, 4, GasFault::T3},  {47, 49, 4, GasFault::DT},
    };
    const auto triangle = shipped_limits("gas-triangle-1");
    for (const auto& row : rows) {
        for (const double times : {1.0, 7.0, 13.0, 977.0}) {
            INFO(row.methane << "/" << row.ethylene << "/" << row.acetylene << " x " << times);
            CHECK(
                rules::triangle_zone(shares(row.methane * times, row.ethylene * times, row.acetylene * times),
                                     triangle) == row.at);
        }
    }
    CHECK_FALSE(rules::triangle_zone(shares(0, 0, 0), triangle));
    CHECK_FALSE(rules::triangle_zone(shares(1, 1, 1), shipped_limits("gas-meaning")));
}

TEST_CASE("the T1 border stands at 20 % ethylene, not at the 10 % of the 1999 print") {
    // Border of 20 % by IEC 60599:2015 and later papers, from memory; 12.5 % is case 087 of the TC 10
    // database.
    const auto triangle = shipped_limits("gas-triangle-1");
    CHECK(rules::triangle_zone(shares(27, 4, 1), triangle) == GasFault::T1);
    CHECK(rules::triangle_zone(shares(61, 39, 0), triangle) == GasFault::T2);
}

TEST_CASE("acetylene over 4 % alone is no low energy discharge") {
    // A figure in circulation says so; the published zone starts at 13 %.
    CHECK(rules::triangle_zone(shares(85, 9, 6), shipped_limits("gas-triangle-1")) == GasFault::DT);
}

TEST_CASE("ratios hold at their ends where the row has two, and only beyond where it has one") {
    const auto ratios = shipped_limits("iec60599-2015-ratios");
    const auto codes = [&](double acetylene, double ethylene, double methane, double hydrogen,
                           double ethane) {
        return rules::ratio_codes({hydrogen, methane, ethane, ethylene, acetylene, {}, {}}, ratios);
    };
    using Codes = std::vector<GasFault>;
    CHECK(codes(4, 4, 10, 60, 4) == Codes{});                              // r1 = 1 exactly: not D1
    CHECK(codes(20, 10, 50, 100, 4) == Codes{GasFault::D1, GasFault::D2}); // both, r2 = 0.5 exactly
    CHECK(codes(25, 10, 10, 100, 4) == Codes{GasFault::D1, GasFault::D2}); // r1 = 2.5, r2 = 0.1 exactly
    CHECK(codes(26, 10, 10, 100, 4) == Codes{GasFault::D1});               // r1 > 2.5
    CHECK(codes(6, 10, 100, 100, 4) == Codes{GasFault::D2});               // r1 = 0.6, r2 = 1 exactly
    CHECK(codes(0, 40, 200, 100, 10) == Codes{GasFault::T2});              // r3 = 4 exactly: T2, not T3
    CHECK(codes(0, 10, 200, 100, 10) == Codes{GasFault::T2});              // r3 = 1 exactly: T2, not T1
    CHECK(codes(0, 9, 200, 100, 10) == Codes{GasFault::T1});
    CHECK(codes(0, 41, 200, 100, 10) == Codes{GasFault::T3});
    CHECK(codes(0, 0, 0, 0, 0) == Codes{});                // nothing over nothing
    CHECK(codes(0, 5, 200, 0, 10) == Codes{GasFault::T1}); // no hydrogen: ratio without end
}

TEST_CASE("the triangle is asked only when a gas is above its typical value") {
    const Sets sets;
    // Typical values of distribution transformers, IEC 60599 annex; from memory.
    const Gases at_limits{100, 50, 50, 50, 5, 200, 5000};
    CHECK(verdict_in(rules::gases(at_limits, {}, sets.all())).grade == Grade::Sound);
    Gases over = at_limits;
    over.ethylene_ppm = 51;
    CHECK(verdict_in(rules::gases(over, {}, sets.all())).grade > Grade::Sound);
}

TEST_CASE("high energy discharge goes off line, both methods are told") {
    const Sets sets;
    // M. Duval, A. dePablo 2001, IEC TC 10 case 047.
    const auto said = verdict_in(rules::gases({1570, 1110, 175, 1780, 1830, {}, {}}, {}, sets.all()));
    CHECK(said.grade == Grade::Danger);
    CHECK(said.when == model::When::BeforeSupplyReturns);
    CHECK(said.action.key == "oil.gases.action.off_line");
    const std::string sentence = tests::shipped_words().say(said.because);
    CHECK(sentence.find("D2") != std::string::npos);
    // Case 109: the ratios say T1, the triangle T3; the worse one decides and both are named.
    const auto split = verdict_in(rules::gases({6, 2990, 29990, 26076, 67, {}, {}}, {}, sets.all()));
    CHECK(split.grade == Grade::Repair);
    const std::string both = tests::shipped_words().say(split.because);
    CHECK(both.find("T3") != std::string::npos);
    CHECK(both.find("T1") != std::string::npos);
}

TEST_CASE("a sharp rise counts before the typical value is reached") {
    const Sets sets;
    const Gases before{30, 10, 10, 20, 1, {}, {}};
    Gases now = before;
    now.ethylene_ppm = 45; // below 50, more than half of it, more than doubled
    CHECK(verdict_in(rules::gases(now, {}, sets.all())).grade == Grade::Sound);
    CHECK(verdict_in(rules::gases(now, rules::EarlierGases{before, 365}, sets.all())).grade >= Grade::Watch);
    now.ethylene_ppm = 24; // a rise, but of small figures
    CHECK(verdict_in(rules::gases(now, rules::EarlierGases{before, 365}, sets.all())).grade == Grade::Sound);
}

TEST_CASE("little carbon dioxide for the monoxide says that paper is involved") {
    const Sets sets;
    const auto has_paper = [&](double monoxide, double dioxide) {
        for (const auto& caution :
             verdict_in(rules::gases({200, 0, 0, 0, 0, monoxide, dioxide}, {}, sets.all())).cautions) {
            if (caution.key == "oil.gases.caution.paper") {
                return true;
            }
        }
        return false;
    };
    CHECK(has_paper(200, 599)); // IEC 60599: below 3; from memory
    CHECK_FALSE(has_paper(200, 600));
}

TEST_CASE("the same mixture in a larger amount is never graded better") {
    const Sets sets;
    std::mt19937 random(104);
    std::uniform_real_distribution<double> power(-1.0, 3.5);
    std::uniform_real_distribution<double> times(1.0, 20.0);
    const auto amount = [&] { return std::pow(10.0, power(random)); };
    for (int i = 0; i < 2000; ++i) {
        const Gases some{amount(), amount(), amount(), amount(), amount(), {}, {}};
        const double k = times(random);
        const Gases more{some.hydrogen_ppm * k,
                         some.methane_ppm * k,
                         some.ethane_ppm * k,
                         some.ethylene_ppm * k,
                         some.acetylene_ppm * k,
                         {},
                         {}};
        const auto a = std::get<model::Verdict>(rules::gases(some, {}, sets.all()));
        const auto b = std::get<model::Verdict>(rules::gases(more, {}, sets.all()));
        if (b.grade < a.grade) {
            FAIL("graded better at " << k << " times the gas");
        }
    }
}

TEST_CASE("impossible gases and sets without figures give no verdict") {
    const Sets sets;
    for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(), -1.0, 1'000'001.0}) {
        for (int at = 0; at < 7; ++at) {
            Gases gases{10, 10, 10, 10, 1, 10, 10};
            std::array<double*, 7> each = {&gases.hydrogen_ppm,       &gases.methane_ppm,
                                           &gases.ethane_ppm,         &gases.ethylene_ppm,
                                           &gases.acetylene_ppm,      &*gases.carbon_monoxide_ppm,
                                           &*gases.carbon_dioxide_ppm};
            *each[static_cast<std::size_t>(at)] = bad;
            CHECK(refusal_in(rules::gases(gases, {}, sets.all())) == "oil.gases.impossible");
            CHECK(rules::ratio_codes(gases, sets.ratios).empty());
        }
    }
    const Gases good{10, 10, 10, 10, 1, {}, {}};
    for (const double days : {0.0, -1.0, std::nan(""), 20'001.0}) {
        CHECK(refusal_in(rules::gases(good, rules::EarlierGases{good, days}, sets.all())) ==
              "oil.gases.impossible");
    }
    CHECK(refusal_in(rules::gases(good, {}, {sets.meaning, sets.ratios, sets.triangle, sets.meaning})) ==
          "oil.no_limit");
    CHECK(refusal_in(rules::gases(good, {}, {sets.typical, sets.typical, sets.triangle, sets.meaning})) ==
          "oil.no_limit");
}
