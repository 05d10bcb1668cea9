// Fuse link and breaker together, against published speed ratios, fault levels and fault ratios.
#include "checklist/rules/uprating_grading.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/outgrown.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <string>

using namespace crossarm;
using rules::FuseLink;
using tests::shipped_limits;

namespace {

std::string answer(const rules::Outcome& outcome) {
    const auto* v = std::get_if<model::Verdict>(&outcome);
    return v == nullptr                      ? std::get<model::NoVerdict>(outcome).why.key
           : v->grade == model::Grade::Sound ? "pass"
                                             : "fail";
}

} // namespace

TEST_CASE("the least melting currents of K and T links have the speed ratios that are published for them") {
    // Speed ratio: least melting current at 0.1 s by that at 300 s (600 s above 100 A). ANSI C37.42, from
    // memory; the ratios were remembered apart from the currents.
    struct Row {
        double rating_A, k, t;
    };
    const Row expected[] = {{6, 6.0, 10.0},   {8, 6.5, 11.1},   {10, 6.6, 11.5}, {12, 6.6, 11.8},
                            {15, 6.9, 12.5},  {20, 7.0, 12.7},  {25, 7.0, 12.7}, {30, 7.1, 12.9},
                            {40, 7.1, 13.0},  {50, 7.1, 13.0},  {65, 7.2, 12.9}, {80, 7.4, 13.0},
                            {100, 7.6, 13.1}, {140, 8.0, 12.9}, {200, 8.1, 13.0}};
    const auto set = shipped_limits("fuse-link-melting");
    const model::LimitTable* links = set.table("links");
    REQUIRE(links != nullptr);
    CHECK(links->rows.size() == 30);
    for (const Row& row : expected) {
        for (const char kind : {'K', 'T'}) {
            const std::string name = rules::link_text({row.rating_A, kind});
            INFO(name);
            const auto found = std::find_if(links->rows.begin(), links->rows.end(),
                                            [&](const model::LimitRow& r) { return r.key == name; });
            REQUIRE(found != links->rows.end());
            const double ratio = found->values[2] / found->values[0];
            CHECK(ratio == Approx(kind == 'K' ? row.k : row.t).margin(0.051));
            // Both classes melt alike at the long end: the 300 s current is twice the rating up to 100 A.
            if (row.rating_A <= 100) {
                CHECK(found->values[0] / row.rating_A == Approx(2.0).margin(0.13));
            }
        }
    }
}

TEST_CASE("a fault between two phases behind delta-star draws as much through one link as one of all three") {
    // Two utilities' engineers in a public series on overcurrent protection of transformers, second hand: per
    // unit of the winding current, delta-star lines carry 1.0 (three-phase), 1.15 (two phases), 0.58 (to
    // neutral). Two phases drive √3/2 of the three-phase current through the winding: 1.15 × 0.87 = 1.0.
    CHECK(1.15 * 0.866 == Approx(1.0).margin(0.005));
    // Full-load currents, derived, are in the same ratio: 100 kVA 133.3 A at 433 V and 5.25 A at 11 kV.
    CHECK(*rules::hv_share_A(0.1333, 433, 11) == Approx(5.25).margin(0.005));
    CHECK(*rules::hv_share_A(1.3334, 433, 11) == Approx(52.49).margin(0.01));
}

TEST_CASE("grading of links of two utilities' tables with a breaker, at the fault level of every rating") {
    // Fault levels: 11 kV to 433 V, 4.5 %, infinite network, derived. Links: two utilities' tables, second
    // hand. HV current worked by hand, kA × 433 / 11; compared by hand with the points of the standard.
    struct Row {
        double rating_kVA, fault_kA, hv_A;
        FuseLink link;
        double clearing_s; // 0: not known
        const char* expected;
    };
    const Row rows[] = {
        {25, 0.74, 29.1, {8, 'T'}, 0.04, "pass"}, // below the 166 A of 0.1 s, above 20.5 A of 10 s
        {63, 1.87, 73.6, {8, 'T'}, 0.04, "pass"}, // below 166 A
        {100, 2.96, 116.5, {16, 'K'}, 0.04, "no.uprating.grading_link"}, // no standard link
        {100, 2.96, 116.5, {15, 'K'}, 0.04, "pass"},                     // below 215 A
        {200, 5.93, 233.4, {25, 'K'}, 0.04, "pass"},                     // below 350 A
        {200, 5.93, 233.4, {20, 'K'}, 0.04, "pass"},                     // below 273 A
        {200, 5.93, 233.4, {20, 'K'}, 0.0, "no.uprating.grading_clearing"},
        {200, 5.93, 233.4, {20, 'K'}, 0.08, "no.uprating.grading_melting"}, // over 75 % of 0.1 s
        {200, 5.93, 233.4, {20, 'K'}, 8.0, "fail"},                         // over 75 % of 10 s
        {315, 9.33, 367.3, {25, 'K'}, 0.04, "no.uprating.grading_melting"}, // over 350 A
        {315, 9.33, 367.3, {25, 'K'}, 0.0, "no.uprating.grading_both"},
        {315, 9.33, 367.3, {25, 'K'}, 0.10, "fail"},
        {315, 9.33, 367.3, {31, 'K'}, 0.04, "no.uprating.grading_link"},
        {315, 9.33, 367.3, {25, 'T'}, 0.04, "pass"},  // below 635 A: the slower class of the same rating
        {500, 14.82, 583.4, {50, 'K'}, 0.04, "pass"}, // below 719 A
        {500, 14.82, 583.4, {40, 'K'}, 0.08, "fail"}, // over 565 A, and 0.08 s is over 75 % of 0.1 s
        {1000, 29.6, 1165.2, {65, 'K'}, 0.05, "no.uprating.grading_melting"}, // over 918 A
    };
    const auto set = shipped_limits("fuse-link-melting");
    for (const Row& row : rows) {
        INFO(row.rating_kVA << " kVA, " << rules::link_text(row.link) << ", " << row.clearing_s << " s");
        CHECK(*rules::hv_share_A(row.fault_kA, 433, 11) == Approx(row.hv_A).margin(0.1));
        rules::GradingReadings r{row.link, 11, 433, row.fault_kA, std::nullopt};
        if (row.clearing_s > 0) {
            r.clearing_s = row.clearing_s;
        }
        CHECK(answer(rules::grading_check(r, set)) == row.expected);
    }
}

TEST_CASE("below the ten-second point the product standard alone is enough, and nonsense gives no verdict") {
    const auto set = shipped_limits("fuse-link-melting");
    // 0.5 kA × 433 / 11 = 19.7 A, below the 60 A at which a 25 K melts in 10 s: 0.2 s is well within 75 %.
    CHECK(answer(rules::grading_check({{25, 'K'}, 11, 433, 0.5, std::nullopt}, set)) == "pass");
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    for (const double bad : {0.0, -1.0, nan, inf, 1e6}) {
        CHECK(answer(rules::grading_check({{25, 'K'}, 11, 433, bad, 0.04}, set)) == "no.uprating.grading");
        CHECK(answer(rules::grading_check({{25, 'K'}, bad, 433, 5.0, 0.04}, set)) == "no.uprating.grading");
        CHECK(answer(rules::grading_check({{25, 'K'}, 11, 433, 5.0, bad}, set)) == "no.uprating.grading");
    }
    CHECK(answer(rules::grading_check({{25, 'K'}, 11, 433, 5.0, 0.04}, {})) == "no.limit_missing");
}

TEST_CASE("a larger fault, a smaller link or a slower breaker never grades better") {
    const auto set = shipped_limits("fuse-link-melting");
    const auto badness = [&](double rating, double fault_kA, double clearing_s) {
        const std::string a =
            answer(rules::grading_check({{rating, 'K'}, 11, 433, fault_kA, clearing_s}, set));
        return a == "pass" ? 0 : a == "fail" ? 2 : 1;
    };
    const std::array<double, 9> ratings = {6, 10, 15, 20, 25, 40, 65, 100, 200};
    for (std::size_t i = 0; i < ratings.size(); ++i) {
        for (double fault_kA = 0.2; fault_kA < 40.0; fault_kA *= 1.17) {
            for (double clearing_s = 0.01; clearing_s < 20.0; clearing_s *= 1.6) {
                const int here = badness(ratings[i], fault_kA, clearing_s);
                CHECK(badness(ratings[i], fault_kA * 1.3, clearing_s) >= here);
                CHECK(badness(ratings[i], fault_kA, clearing_s * 1.5) >= here);
                if (i > 0) {
                    CHECK(badness(ratings[i - 1], fault_kA, clearing_s) >= here);
                }
            }
        }
    }
}
