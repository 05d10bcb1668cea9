// Damage of a bushing.
#include "checklist/rules/bushings.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <cmath>
#include <limits>

using namespace crossarm;
using model::Grade;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

TEST_CASE("bushing damage is graded, and what may fail stops supply") {
    // Common practice, no source: crack at the flange, tracked glaze or a broken shed means a new bushing
    // before energising; a chip at a shed edge is noted. `factor` is the published condition factor for the
    // same words: GB regulator's asset index methodology 2021, table 85 (made for EHV, by analogy).
    struct Row {
        const char* seen;
        Grade grade;
        std::optional<model::When> when;
        double factor;
    };
    const std::vector<Row> rows = {
        {"none", Grade::Sound, std::nullopt, 1.0},
        {"chip_edge", Grade::Watch, model::When::AtNextVisit, 1.2},
        {"hairline", Grade::Repair, model::When::Within30Days, 1.2},
        {"crack_flange", Grade::Danger, model::When::BeforeSupplyReturns, 1.4},
        {"broken", Grade::Danger, model::When::BeforeSupplyReturns, 1.4},
    };
    const auto limits = shipped_limits("bushing-damage");
    double last_factor = 0.0;
    Grade last = Grade::Sound;
    for (const auto& row : rows) {
        const auto said = verdict_in(rules::damage({row.seen}, limits));
        CHECK(said.grade == row.grade);
        CHECK(said.when == row.when);
        // The published order is kept: a worse published factor is never a better grade here.
        CHECK(row.factor >= last_factor);
        CHECK(said.grade >= last);
        last_factor = row.factor;
        last = said.grade;
    }
    CHECK(verdict_in(rules::damage({"tracked"}, limits)).grade == Grade::Danger);
}

TEST_CASE("a hairline crack whose end is not seen is treated as one at the flange") {
    const auto said = verdict_in(rules::damage({"hairline"}, shipped_limits("bushing-damage")));
    CHECK(said.cautions.back().key == "bushings.caution.end_not_seen");
}

TEST_CASE("damage without a row or with a table that is not so gives no verdict") {
    CHECK(refusal_in(rules::damage({"scratched"}, shipped_limits("bushing-damage"))) ==
          "bushings.unknown_damage");
    CHECK(refusal_in(rules::damage({""}, shipped_limits("bushing-damage"))) == "bushings.unknown_damage");
    CHECK(refusal_in(rules::damage({"none"}, shipped_limits("six-shots"))) == "bushings.no_limit");
    for (const double bad : {-1.0, 0.5, 4.0}) {
        auto limits = shipped_limits("bushing-damage");
        limits.tables[0].rows[0].values[0] = bad;
        CHECK(refusal_in(rules::damage({"none"}, limits)) == "bushings.no_limit");
    }
    auto limits = shipped_limits("bushing-damage");
    limits.tables[0].rows[3].values[1] = -1.0; // Danger with nothing to do
    CHECK(refusal_in(rules::damage({"crack_flange"}, limits)) == "bushings.no_limit");
}

TEST_CASE("all that is said about bushings has words") {
    const auto limits = shipped_limits("bushing-damage");
    for (const auto& row : limits.table("damage")->rows) {
        (void)verdict_in(rules::damage({row.key}, limits));
    }
}

TEST_CASE("creepage follows the published steps") {
    // IEC 60815-1 unified specific creepage, phase to earth; from memory. 12 kV in heavy pollution: 300 mm,
    // the same as the older 25 mm for each kV between phases; derived, to a whole millimetre.
    const auto set = shipped_limits("bushing-creepage");
    struct Row {
        const char* pollution;
        double per_kV;
    };
    double last = 0.0;
    for (const auto& row : {Row{"very_light", 22.0}, Row{"light", 27.8}, Row{"medium", 34.7},
                            Row{"heavy", 43.3}, Row{"very_heavy", 53.7}}) {
        const auto mm = rules::creepage_mm(12.0, row.pollution, set);
        REQUIRE(mm);
        CHECK(*mm == Approx(row.per_kV * 12.0 / std::sqrt(3.0)));
        CHECK(*mm > last);
        last = *mm;
    }
    CHECK(std::abs(*rules::creepage_mm(12.0, "heavy", set) - 300.0) < 0.5);
    CHECK(std::abs(*rules::creepage_mm(12.0, "heavy", set) - 25.0 * 12.0) < 0.5);
    CHECK_FALSE(rules::creepage_mm(12.0, "dusty", set));
    for (const double bad : {std::nan(""), 0.0, -12.0, std::numeric_limits<double>::infinity()}) {
        CHECK_FALSE(rules::creepage_mm(bad, "heavy", set));
    }
}
