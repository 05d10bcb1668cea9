// The whole study of one made-up structure, and the answers of its checks.
#include "checklist/rules/uprating_study.hpp"
#include "checklist/rules/uprating_support.hpp"
#include "checklist/rules/uprating_withstand.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/outgrown.hpp"

using namespace crossarm;
using model::Grade;
using tests::check_named;
using tests::outgrown;
using tests::shipped_library;
using tests::shipped_limits;

namespace {

rules::Study study_of(const rules::StudyFacts& facts) {
    return rules::uprating_study(facts, shipped_library());
}

Grade grade(const rules::Study& study, const std::string& check) {
    INFO(check);
    return tests::verdict_in(check_named(study, check)).grade;
}

std::string refusal(const rules::Study& study, const std::string& check) {
    INFO(check);
    return tests::refusal_in(check_named(study, check));
}

int lines(const rules::Study& study, rules::Goes goes) {
    return static_cast<int>(std::count_if(study.materials.begin(), study.materials.end(),
                                          [&](const auto& m) { return m.goes == goes; }));
}

} // namespace

TEST_CASE("an outgrown 200 kVA becomes 315 kVA, with all that goes with it") {
    const auto study = study_of(outgrown());
    REQUIRE(study.demand);
    CHECK(study.demand->now_kVA == Approx(225.0).margin(0.1));
    CHECK(study.demand->horizon_kVA == Approx(225.0 * 1.1953 + 13.33).margin(0.2));
    CHECK(*study.share_now_percent == Approx(112.5).margin(0.1));
    CHECK(*study.years_left == 0.0);
    CHECK(study.proposal.uprate);
    CHECK(*study.proposal.rating_kVA == 315.0);
    CHECK(grade(study, "rating") == Grade::Sound);
    CHECK(grade(study, "fault") == Grade::Sound);
    CHECK(grade(study, "hv_fuse") == Grade::Repair); // 25 K is fitted, 31 K belongs there
    CHECK(rules::link_text(*study.proposal.link) == "31 K");
    CHECK(grade(study, "breaker.fitted") == Grade::Repair); // 315 A under 420 A
    CHECK(study.proposal.breakers == rules::Breakers{1, 500.0, 16.0});
    CHECK(grade(study, "cable.fitted") == Grade::Repair);
    CHECK(study.proposal.cable == rules::Cable{300.0, 1});
    CHECK(grade(study, "short_circuit") == Grade::Sound);
    CHECK(grade(study, "neutral") == Grade::Sound);
    CHECK(grade(study, "earth_conductor") == Grade::Sound);
    CHECK(grade(study, "electrode") == Grade::Watch);
    CHECK(grade(study, "mass") == Grade::Sound);
    CHECK(grade(study, "clearance") == Grade::Sound);
    CHECK(grade(study, "lugs") == Grade::Watch); // the die table is from memory
    CHECK(study.proposal.lugs->lug == rules::Metal::Bimetal);
    CHECK(study.proposal.lugs->die_code == 34);
    CHECK(lines(study, rules::Goes::Down) >= 3);
    CHECK(lines(study, rules::Goes::Again) >= 2);
    CHECK(lines(study, rules::Goes::New) >= 7);
    for (const rules::StudyCheck& check : study.checks) {
        if (std::holds_alternative<model::Verdict>(check.outcome) && !check.name.starts_with("hot_spot")) {
            (void)tests::verdict_in(check.outcome);
        }
    }
}

TEST_CASE("alternatives stand beside the choice, with losses and what is left") {
    const auto study = study_of(outgrown());
    std::vector<std::string> kinds;
    for (const auto& a : study.alternatives) {
        kinds.push_back(a.kind);
        REQUIRE(a.cost);
        CHECK(a.cost->all_kWh > a.cost->first_year_kWh);
    }
    CHECK(kinds == std::vector<std::string>{"present", "smaller", "chosen", "larger", "second"});
    CHECK_FALSE(study.alternatives[0].serves);
    CHECK_FALSE(study.alternatives[1].serves);
    CHECK(study.alternatives[2].serves);
    CHECK(study.alternatives[3].serves);
    CHECK(study.alternatives[2].headroom_now_kVA == Approx(90.0).margin(0.1));
    CHECK(study.alternatives[3].headroom_now_kVA == Approx(175.0).margin(0.1));
    CHECK(study.alternatives[4].rating_kVA == 200.0);
    CHECK(study.alternatives[4].serves);
}

TEST_CASE("a transformer that serves its horizon stays, and nothing is brought") {
    auto facts = outgrown();
    facts.samples[0].phase_A = {120.0, 118.0, 115.0};
    facts.samples[0].neutral_A.reset();
    facts.loads.clear();
    const auto study = study_of(facts);
    CHECK_FALSE(study.proposal.uprate);
    CHECK(*study.proposal.rating_kVA == 200.0);
    CHECK(study.materials.empty());
    CHECK(*study.years_left > 10.0);
    CHECK(grade(study, "hv_fuse") == Grade::Sound);
    CHECK(grade(study, "cable.fitted") == Grade::Sound);
}

TEST_CASE("what is not known is said, never assumed") {
    rules::StudyFacts bare;
    bare.at = outgrown().at;
    bare.samples = outgrown().samples;
    const auto study = study_of(bare);
    CHECK(refusal(study, "cable.proposed") == "no.uprating.cable_place");
    CHECK(refusal(study, "electrode") == "no.uprating.electrode");
    CHECK(refusal(study, "mass") == "no.uprating.mass");
    CHECK(refusal(study, "clearance") == "no.uprating.clearance");
    CHECK(grade(study, "fault") == Grade::Watch); // usual impedance
    CHECK(grade(study, "earth_conductor") == Grade::Watch);
    rules::StudyFacts nothing;
    nothing.at = outgrown().at;
    const auto empty = study_of(nothing);
    CHECK(refusal(empty, "demand") == "no.uprating.demand");
    CHECK(empty.checks.size() == 1);
    CHECK_FALSE(empty.proposal.rating_kVA);
}

TEST_CASE("without a recorded peak the connected load stands in, and the check says so") {
    auto facts = outgrown();
    facts.samples.clear();
    facts.loads = {{"Houses", 560.0, 0.6, 1.8, false}, {"Cold store", 20.0, 0.8, 1.2, true}};
    const auto study = study_of(facts);
    CHECK(study.demand->now_kVA == Approx(560 * 0.6 / 1.8));
    CHECK(study.demand->applied_kVA == Approx(20 * 0.8 / 1.2));
    CHECK(grade(study, "demand") == Grade::Watch);
    facts.samples = outgrown().samples;
    facts.loads[0].connected_kVA = 2000.0; // 667 kVA after diversity, 225 recorded
    CHECK(grade(study_of(facts), "demand") == Grade::Watch);
}

TEST_CASE("a table is not used where its own conditions are not met") {
    const auto iec = shipped_limits("iec60364-5-52-2009");
    const auto maker = shipped_limits("maker-aluminium-xlpe");
    rules::CablePlace p;
    const auto why = [](const rules::CablePlace& place, double area, int runs, const model::LimitSet& set) {
        const auto found = rules::ampacity(place, area, runs, set);
        const auto* none = std::get_if<model::NoVerdict>(&found);
        return none == nullptr ? std::string() : none->why.key;
    };
    CHECK(why(p, 300, 1, iec).empty());
    CHECK(why(p, 400, 1, iec) == "no.uprating.cable_row"); // multicore ends at 300
    CHECK(why(p, 310, 1, iec) == "no.uprating.cable_row");
    p.insulation = "pvc";
    p.air_C = 55;
    CHECK(why(p, 95, 1, iec) == "no.uprating.cable_air"); // PVC ends at 50 °C
    p = {};
    p.circuits_beside = 20;
    CHECK(why(p, 95, 1, iec) == "no.uprating.cable_grouping");
    p = {};
    p.laid = rules::Laid::D1;
    CHECK(why(p, 95, 1, iec) == "no.uprating.cable_soil_unknown");
    p.soil_Km_W = 3.5;
    CHECK(why(p, 95, 1, iec) == "no.uprating.cable_soil");
    p.soil_Km_W = 1.0;
    p.ground_C = 50;
    CHECK(why(p, 95, 1, iec) == "no.uprating.cable_ground");
    p.ground_C = 20;
    CHECK(why(p, 95, 1, iec).empty());
    p = {};
    CHECK(why(p, 95, 1, maker).empty());
    CHECK(why(p, 95, 2, maker) == "no.uprating.cable_grouping");
    p.air_C = 35;
    CHECK(why(p, 95, 1, maker) == "no.uprating.cable_air");
    // Between two rows the harsher one counts.
    p = {};
    p.air_C = 36;
    CHECK(std::get<rules::Ampacity>(rules::ampacity(p, 95, 1, iec)).temperature == 0.91);
}

TEST_CASE("fuse links: fitted, other, without a row, outside the table") {
    const auto table = shipped_limits("hv-fuse-table-a");
    const auto window = shipped_limits("hv-fuse-window");
    const auto check = [&](double rating, double hv_kV, std::optional<double> fault_kA, const char* fitted) {
        return rules::fuse_check({rating, hv_kV, fault_kA, fitted}, table, window);
    };
    CHECK(tests::verdict_in(check(200, 11, 6.0, "25 K")).grade == Grade::Sound);
    CHECK(tests::verdict_in(check(200, 11, 6.0, "25K")).grade == Grade::Sound);
    CHECK(tests::verdict_in(check(200, 11, 6.0, "16 K")).grade == Grade::Repair);
    CHECK(tests::verdict_in(check(200, 11, 6.0, "25 T")).grade == Grade::Repair);
    CHECK(tests::verdict_in(check(200, 11, 6.0, "")).grade == Grade::Repair);
    CHECK(tests::verdict_in(check(400, 11, 6.0, "25 K")).grade == Grade::Watch);
    CHECK(tests::refusal_in(check(200, 22, 6.0, "25 K")) == "no.uprating.fuse_voltage");
    CHECK(tests::refusal_in(check(200, 11, 9.0, "25 K")) == "no.uprating.fuse_fault");
    CHECK(tests::refusal_in(check(-5, 11, 6.0, "25 K")) == "no.uprating.fuse");
    CHECK_FALSE(rules::link_of("K"));
    CHECK_FALSE(rules::link_of("25 X"));
    CHECK_FALSE(rules::link_of("nan K"));
}

TEST_CASE("breakers: too small, too weak, near, enough") {
    const auto set = shipped_limits("iec60947-2-breakers");
    const auto check = [&](int n, double rating, double icu, double current, double fault) {
        return tests::verdict_in(rules::breaker_check({n, rating, icu}, {current, fault, 0}, set));
    };
    CHECK(check(1, 500, 25, 420, 10).grade == Grade::Sound);
    CHECK(check(1, 400, 25, 420, 10).grade == Grade::Repair);
    CHECK(check(1, 500, 10, 420, 12).grade == Grade::Repair);
    CHECK(check(1, 500, 10, 420, 9.5).grade == Grade::Watch);
    CHECK(check(2, 400, 25, 533, 12).grade == Grade::Sound);
    CHECK(tests::working(check(2, 400, 25, 533, 12), "work.uprating.way_current") == Approx(293.15));
    CHECK(check(2, 250, 25, 533, 12).grade == Grade::Repair); // 266 A each, and uneven
}

TEST_CASE("mass against the structure's limit, and only a rule of thumb without one") {
    const auto set = shipped_limits("support-practice");
    const auto mass = [&](std::optional<double> kg, std::optional<double> limit, double rating,
                          const char* support) {
        return rules::mass_check({rating, support, kg, limit, 200.0}, set);
    };
    CHECK(tests::verdict_in(mass(1000.0, 2000.0, 250, "two-pole")).grade == Grade::Sound);
    CHECK(tests::verdict_in(mass(1650.0, 2000.0, 400, "two-pole")).grade == Grade::Watch);
    CHECK(tests::verdict_in(mass(1900.0, 2000.0, 500, "two-pole")).grade == Grade::Repair);
    CHECK(tests::verdict_in(mass(1000.0, {}, 250, "two-pole")).grade == Grade::Watch);
    CHECK(tests::verdict_in(mass(1300.0, {}, 315, "two-pole")).grade == Grade::Repair);
    CHECK(tests::refusal_in(mass(1000.0, {}, 250, "tower")) == "no.uprating.mass_limit");
    CHECK(tests::refusal_in(mass({}, 2000.0, 250, "two-pole")) == "no.uprating.mass");
    CHECK(tests::refusal_in(mass(-3.0, 2000.0, 250, "two-pole")) == "no.uprating.mass_reading");
}

TEST_CASE("distances of live parts: enough, near, short, half known") {
    const auto set = shipped_limits("iec61936-1-clearance");
    const auto air = [&](std::optional<double> spacing, std::optional<double> height) {
        return rules::air_check({11, 75, spacing, height}, set);
    };
    CHECK(tests::verdict_in(air(0.26, 3.2)).grade == Grade::Sound);
    CHECK(tests::verdict_in(air(0.16, 3.2)).grade == Grade::Watch);
    CHECK(tests::verdict_in(air(0.14, 3.2)).grade == Grade::Repair);
    CHECK(tests::verdict_in(air(0.26, 2.4)).grade == Grade::Repair);
    CHECK(tests::verdict_in(air({}, 3.2)).grade == Grade::Watch);
    CHECK(tests::refusal_in(air({}, {})) == "no.uprating.clearance");
    CHECK(tests::refusal_in(rules::air_check({11, 125, 0.3, 3.2}, set)).empty()); // the next row holds it
    CHECK(tests::refusal_in(rules::air_check({66, 325, 0.3, 3.2}, set)) == "no.uprating.clearance_row");
}

TEST_CASE("the ranking puts fewest years first, then the fullest, then the critical, the unknown last") {
    using rules::Urgency;
    const Urgency full{true, 0.0, 130.0, 0, 10, "A"};
    const Urgency fuller{true, 0.0, 150.0, 0, 10, "B"};
    const Urgency critical{true, 0.0, 130.0, 1, 10, "C"};
    const Urgency later{true, 3.0, 90.0, 2, 500, "D"};
    const Urgency never{true, {}, 20.0, 0, 10, "E"};
    const Urgency unknown{false, {}, 0.0, 5, 900, "F"};
    std::vector<Urgency> all{unknown, never, later, full, critical, fuller};
    std::sort(all.begin(), all.end(), rules::more_urgent);
    std::string order;
    for (const auto& u : all) {
        order += u.structure;
    }
    CHECK(order == "BCADEF");
}
