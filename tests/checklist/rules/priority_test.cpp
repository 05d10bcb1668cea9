#include "checklist/rules/priority.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <limits>
#include <random>

using namespace crossarm;
using model::Date;
using model::Grade;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

namespace {

rules::PriorityReadings any(std::mt19937& random) {
    const auto upto = [&](int most) { return std::uniform_int_distribution<int>(0, most)(random); };
    rules::PriorityReadings r;
    r.dangers = upto(2);
    r.repairs = upto(5);
    r.watches = upto(9);
    r.worsening = upto(4);
    r.out_of_reach = upto(6);
    r.age_years = upto(500) / 10.0;
    r.peak_share = upto(200) / 100.0;
    r.customers = upto(800);
    r.critical_customers = upto(3);
    r.days_overdue = upto(400);
    return r;
}

/// Makes one field worse.
void worsen(rules::PriorityReadings& r, int field, int by) {
    switch (field) {
    case 0:
        r.dangers += by;
        break;
    case 1:
        r.repairs += by;
        break;
    case 2:
        r.watches += by;
        break;
    case 3:
        r.worsening += by;
        break;
    case 4:
        r.out_of_reach += by;
        break;
    case 5:
        r.age_years += by;
        break;
    case 6:
        r.peak_share += 0.1 * by;
        break;
    case 7:
        r.customers += by;
        break;
    case 8:
        r.critical_customers += by;
        break;
    default:
        r.days_overdue += by;
        break;
    }
}

} // namespace

TEST_CASE("priority: every part of the score is shown, and they add up") {
    const auto set = shipped_limits("priority-points");
    rules::PriorityReadings r;
    r.repairs = 2;
    r.watches = 1;
    r.age_years = 20;
    r.peak_share = 0.5;
    r.customers = 150;
    const auto s = rules::score(r, set);
    REQUIRE(s->parts.size() == 10);
    // 2 x 100 + 20 + 20 + 0.5 x 40 + 1.5 x 10, by hand.
    CHECK(s->total == Approx(275.0));
    double sum = 0.0;
    for (const auto& part : s->parts) {
        sum += part.points;
        CHECK(part.points >= 0.0);
    }
    CHECK(sum == Approx(s->total));
    const auto v = verdict_in(rules::priority(r, set));
    CHECK(v.grade == Grade::Repair);
    CHECK(v.workings.size() == 11);
    CHECK(tests::working(v, "work.priority.repairs") == 200.0);
}

TEST_CASE("priority: worse never ranks lower") {
    const auto set = shipped_limits("priority-points");
    std::mt19937 random(17);
    for (int i = 0; i < 3000; ++i) {
        const auto better = any(random);
        auto worse = better;
        const int times = 1 + i % 4;
        for (int k = 0; k < times; ++k) {
            worsen(worse, std::uniform_int_distribution<int>(0, 9)(random), 1 + k);
        }
        REQUIRE(rules::score(worse, set)->total > rules::score(better, set)->total);
        REQUIRE(std::get<model::Verdict>(rules::priority(worse, set)).grade >=
                std::get<model::Verdict>(rules::priority(better, set)).grade);
    }
}

TEST_CASE("next visit: the earliest of interval and what rules ask for") {
    const auto set = shipped_limits("priority-points");
    const Date done = *model::parse_date("2026-03-14", "test");
    rules::NextVisitReadings r;
    r.done = done;
    CHECK(rules::next_visit(r, set)->due.days - done.days == 365);
    CHECK(rules::next_visit(r, set)->by == "interval.sound");
    r.worst = Grade::Watch;
    CHECK(rules::next_visit(r, set)->due.days - done.days == 182);
    r.worst = Grade::Sound;
    r.complete = false;
    CHECK(rules::next_visit(r, set)->by == "interval.incomplete");
    r.complete = true;
    r.score = 301.0;
    CHECK(rules::next_visit(r, set)->due.days - done.days == 182);
    r.score = 0.0;
    r.asked = {{"vegetation.trim", Date{done.days + 90}}, {"breather.gel", Date{done.days + 120}}};
    CHECK(rules::next_visit(r, set)->due.days - done.days == 90);
    CHECK(rules::next_visit(r, set)->by == "vegetation.trim");
    r.asked = {{"vegetation.trim", Date{done.days - 500}}};
    CHECK(rules::next_visit(r, set)->due == done); // asked for long ago: at once, not in the past
    CHECK(tests::shipped_words().has("interval.sound"));
}

TEST_CASE("next visit: a worse grade, a higher score or one more date never makes it later") {
    const auto set = shipped_limits("priority-points");
    std::mt19937 random(18);
    std::uniform_int_distribution<int> days(0, 700), grade(0, 3);
    std::uniform_real_distribution<double> score(0.0, 600.0);
    for (int i = 0; i < 2000; ++i) {
        rules::NextVisitReadings better;
        better.done = Date{20'000 + days(random)};
        better.worst = static_cast<Grade>(grade(random));
        better.score = score(random);
        better.asked = {{"a", Date{better.done.days + days(random)}}};
        auto worse = better;
        worse.worst = static_cast<Grade>(std::max(static_cast<int>(better.worst), grade(random)));
        worse.score += score(random);
        worse.complete = i % 2 == 0;
        worse.asked.emplace_back("b", Date{better.done.days + days(random)});
        REQUIRE(rules::next_visit(worse, set)->due <= rules::next_visit(better, set)->due);
    }
}

TEST_CASE("priority: impossible numbers give no score") {
    const auto set = shipped_limits("priority-points");
    for (const double x :
         {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(), -1.0, 1e9}) {
        INFO(x);
        rules::PriorityReadings r;
        r.age_years = x;
        CHECK(refusal_in(rules::priority(r, set)) == "no.priority.reading");
        r = {};
        r.peak_share = x;
        CHECK(!rules::score(r, set));
        rules::NextVisitReadings next;
        next.score = x;
        CHECK(!rules::next_visit(next, set));
    }
    for (int field = 0; field < 10; ++field) {
        rules::PriorityReadings r;
        worsen(r, field, -1);
        CHECK(!rules::score(r, set));
    }
    CHECK(refusal_in(rules::priority({}, shipped_limits("wind-bands"))) == "no.limit_missing");
    CHECK(!rules::next_visit({}, shipped_limits("wind-bands")));
}
