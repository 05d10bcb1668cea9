// The breather: spent gel.
#include "checklist/rules/breather.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <cmath>
#include <limits>

using namespace crossarm;
using model::Grade;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

TEST_CASE("gel is graded by the share that has turned") {
    const auto limits = shipped_limits("gel-practice");
    struct Row {
        double spent_percent;
        Grade grade;
    };
    // Exchanged when half has turned: usual rule of utilities, from memory. A quarter: common practice, no
    // source.
    for (const auto& row : {Row{0, Grade::Sound}, Row{24.9, Grade::Sound}, Row{25, Grade::Watch},
                            Row{49.9, Grade::Watch}, Row{50, Grade::Repair}, Row{100, Grade::Repair}}) {
        CHECK(verdict_in(rules::gel({row.spent_percent, "blue"}, limits)).grade == row.grade);
    }
}

TEST_CASE("gel that turns from the top means a leak above the breather") {
    const auto said = verdict_in(rules::gel({10, "orange", true}, shipped_limits("gel-practice")));
    CHECK(said.grade == Grade::Repair);
    CHECK(said.action.key == "breather.gel.action.find_leak");
}

TEST_CASE("blue and unknown gel carry the cobalt caution, orange its own") {
    const auto limits = shipped_limits("gel-practice");
    CHECK(verdict_in(rules::gel({60, "blue"}, limits)).cautions.front().key == "breather.caution.cobalt");
    CHECK(verdict_in(rules::gel({60, ""}, limits)).cautions.front().key == "breather.caution.cobalt");
    CHECK(verdict_in(rules::gel({60, "orange"}, limits)).cautions.front().key ==
          "breather.caution.orange_dye");
}

TEST_CASE("gel that cannot be graded gives no verdict") {
    const auto limits = shipped_limits("gel-practice");
    CHECK(refusal_in(rules::gel({60, "none"}, limits)) == "breather.none");
    CHECK(refusal_in(rules::gel({60, "green"}, limits)) == "breather.unknown_kind");
    for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity(), -0.1, 100.1}) {
        CHECK(refusal_in(rules::gel({bad, "blue"}, limits)) == "breather.gel.impossible");
    }
    CHECK(refusal_in(rules::gel({60, "blue"}, shipped_limits("six-shots"))) == "breather.no_limit");
}

TEST_CASE("more spent gel is never graded better, and all is said in words") {
    const auto limits = shipped_limits("gel-practice");
    for (const bool from_top : {false, true}) {
        Grade last = Grade::Sound;
        for (int tenth = 0; tenth <= 1000; ++tenth) {
            const auto outcome = rules::gel({tenth / 10.0, "blue", from_top}, limits);
            CHECK(verdict_in(outcome).grade >= last);
            last = verdict_in(outcome).grade;
            (void)verdict_in(outcome);
        }
    }
}
