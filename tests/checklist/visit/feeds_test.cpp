// Every rule that a visit feeds gives what its published check says, from answers of the protocol.
#include "tests/support/fed_visit.hpp"

#include <cmath>

using namespace crossarm;
using model::Grade;
using model::Unit;
using namespace tests;

TEST_CASE("The chosen sets reach a transformer of 11 kV/433 V") {
    // 1.6 m at 11 kV: New Zealand Electricity (Hazards from Trees) Regulations 2003, Schedule, read.
    CHECK(verdict_at("trees.clearance_hv", {{{"trees.clearance_hv", {1.6}}}, {}}).grade == Grade::Sound);
    CHECK(verdict_at("trees.clearance_hv", {{{"trees.clearance_hv", {1.5}}}, {}}).grade == Grade::Danger);
    // Least safe insulation at 30 °C, an Indian textbook, read: 400 MΩ at 11 kV and 200 MΩ below 6.6 kV.
    for (const auto& [id, least_MOhm] :
         {std::pair("tank.ir_hv_lv", 400.0), {"tank.ir_hv_earth", 400.0}, {"tank.ir_lv_earth", 200.0}}) {
        const Numbers enough = {{id, {least_MOhm / 1.4, least_MOhm, least_MOhm}}, {"tank.top_oil", {30}}};
        CHECK(verdict_at(id, {enough, {}}).grade == Grade::Sound);
        const double low = least_MOhm - 1.0;
        CHECK(verdict_at(id, {{{id, {low / 1.4, low, low}}, {"tank.top_oil", {30}}}, {}}).grade ==
              Grade::Repair);
    }
}

TEST_CASE("Readings of the oil and the breather reach their rules") {
    // Good above 40 kV, poor below 30 kV: IEC 60422:2013, Table 5, category C, from memory.
    CHECK(verdict_at("oil.breakdown", {{{"oil.breakdown", {52, 48, 55, 47, 50, 49}}}, {}}).grade ==
          Grade::Sound);
    CHECK(verdict_at("oil.breakdown", {{{"oil.breakdown", {28, 30, 29, 27, 31, 28}}}, {}}).grade ==
          Grade::Repair);
    // Common practice, no source: every option of the protocol agrees with the rule.
    for (const char* id : {"oil.look", "breather.cup_level", "hv_bushings.damage", "lv_bushings.damage"}) {
        for (const auto& option : std::get<model::ChoiceInput>(upkeep().checkpoint(id)->input).options) {
            INFO(id << " " << option.id);
            CHECK(verdict_at(id, {{}, {{id, option.id}}}).grade == option.grade);
        }
    }
    const Numbers half = {{"breather.gel_spent", {50}}};
    CHECK(verdict_at("breather.gel_spent", {half, {{"breather.gel_kind", "blue"}}}).grade == Grade::Repair);
    CHECK(refusal_at("breather.gel_spent", {half, {{"breather.gel_kind", "green"}}}) != "");
}

TEST_CASE("The oil level is judged by the temperature of the oil") {
    // A published maintenance manual: read the oil temperature first. Marks by IS 1180-1:2014, from memory.
    const auto at = [](double level, double oil_C) {
        return FedVisit{{{"tank.oil_level", {level}}, {"tank.top_oil", {oil_C}}}, {}};
    };
    CHECK(verdict_at("tank.oil_level", at(30, 25)).grade == Grade::Sound);
    const auto hot = verdict_at("tank.oil_level", at(30, 70));
    CHECK(hot.grade == Grade::Repair);
    CHECK(std::abs(working(hot, "work.tank.top_up") - 4.88) < 0.01); // 48.9 points of 9.975 L, derived
    CHECK_FALSE(fed("tank.oil_level", {{{"tank.oil_level", {30}}}, {}}));
    FedVisit sealed = at(30, 25);
    sealed.at.plate.conservator = false;
    CHECK(refusal_at("tank.oil_level", sealed) == "tank.level.sealed");
    // Wet, dripping, running: common practice, no source.
    for (const auto& [drops, grade] :
         {std::pair(0.0, Grade::Watch), {2.0, Grade::Repair}, {120.0, Grade::Danger}}) {
        CHECK(verdict_at("tank.leak_drops", {{{"tank.leak_drops", {drops}}}, {}}).grade == grade);
    }
}

TEST_CASE("Insulation is brought to 20 °C, and its absorption speaks when it is worse") {
    // 1 200 MΩ at 35 °C are 3 360 MΩ at 20 °C: a maker's published table and its worked example.
    const auto good =
        verdict_at("tank.ir_hv_lv", {{{"tank.ir_hv_lv", {900, 1200, 1700}}, {"tank.top_oil", {35}}}, {}});
    CHECK(good.grade == Grade::Sound);
    CHECK(working(good, "work.insulation.at_20") == Approx(3360.0));
    // 60 s over 15 s at least 1.3: national test codes, from memory. 1200 / 1000 = 1.2.
    const auto slow =
        verdict_at("tank.ir_hv_lv", {{{"tank.ir_hv_lv", {1000, 1200, 1700}}, {"tank.top_oil", {35}}}, {}});
    CHECK(slow.subject == "insulation.absorption");
    CHECK(slow.grade == Grade::Watch);
    // The same flat curve on a winding below the least: the resistance is worse and speaks.
    const auto low =
        verdict_at("tank.ir_hv_lv", {{{"tank.ir_hv_lv", {100, 110, 120}}, {"tank.top_oil", {40}}}, {}});
    CHECK(low.subject == "insulation.resistance");
    CHECK(low.grade == Grade::Repair);
    // Floor: rated kV plus 1 MΩ at 20 °C, read. 3 MΩ at 30 °C are 5.94 MΩ at 20 °C, below 12.
    const auto gone =
        verdict_at("tank.ir_hv_lv", {{{"tank.ir_hv_lv", {2, 3, 4}}, {"tank.top_oil", {30}}}, {}});
    CHECK(gone.grade == Grade::Danger);
    // The LV winding is judged as one: 5.94 MΩ are above 1.433.
    const auto lv =
        verdict_at("tank.ir_lv_earth", {{{"tank.ir_lv_earth", {2, 3, 4}}, {"tank.top_oil", {30}}}, {}});
    CHECK(lv.grade == Grade::Repair);
    CHECK_FALSE(fed("tank.ir_hv_lv", {{{"tank.ir_hv_lv", {900, 1200, 1700}}}, {}}));
    // The chosen set has no figure for a cold winding.
    CHECK(refusal_at("tank.ir_hv_lv", {{{"tank.ir_hv_lv", {900, 1200, 1700}}, {"tank.top_oil", {22}}}, {}}) ==
          "insulation.no_limit");
}

TEST_CASE("Earth electrodes: the three readings, and the last ones of the same season") {
    // 5 Ω wanted, 10 Ω at most, 5 % and 10 % apart: Indian utility practice, from memory.
    const auto at = [](std::vector<double> ohm) {
        return FedVisit{{{"earth_electrodes.body", std::move(ohm)}}, {}};
    };
    CHECK(verdict_at("earth_electrodes.body", at({3.9, 4.0, 4.1})).grade == Grade::Sound);
    CHECK(verdict_at("earth_electrodes.body", at({7.9, 8.0, 8.1})).grade == Grade::Watch);
    CHECK(verdict_at("earth_electrodes.body", at({10.1, 10.2, 10.3})).grade == Grade::Repair);
    CHECK(refusal_at("earth_electrodes.body", at({3.5, 4.0, 4.1})) == "no.earth.spread");
    FedVisit risen = at({4.0, 4.0, 4.0});
    const auto earlier = [&](const char* day, double ohm) {
        const model::Quantity one{ohm, Unit::Ohm};
        risen.reg.earlier = {{"QM-0101", "earth_electrodes.body", *model::parse_date(day, "day"),
                              model::Readings{{one, one, one}}}};
        return verdict_at("earth_electrodes.body", risen).because.key;
    };
    CHECK(earlier("2025-11-01", 3.0) == "because.earth.rising"); // a third more than last November
    CHECK(earlier("2025-11-01", 3.2) != "because.earth.rising");
    CHECK(earlier("2026-05-20", 3.0) != "because.earth.rising"); // another season
}

TEST_CASE("Joints need the air and the current beside them") {
    const Numbers hot = {{"lv_bushings.temperature", {40, 41, 95}},
                         {"lv_bushings.ambient", {25}},
                         {"lv_bushings.current", {130, 131, 130}}};
    // 70 K over ambient: the step of a military scale for heat pictures, as a seller prints it; near full
    // load.
    CHECK(verdict_at("lv_bushings.temperature", {hot, {}}).grade == Grade::Danger);
    for (const char* missing : {"lv_bushings.ambient", "lv_bushings.current"}) {
        Numbers less = hot;
        less.erase(missing);
        CHECK_FALSE(fed("lv_bushings.temperature", {less, {}}));
    }
    // Between similar joints more than 15 K is major: NETA MTS Table 100.18 (read); full load at 131 to 133
    // A.
    const Numbers one_hot = {{"lv_bushings.temperature", {40, 41, 58}},
                             {"lv_bushings.ambient", {30}},
                             {"lv_bushings.current", {133, 133, 133}}};
    CHECK(verdict_at("lv_bushings.temperature", {one_hot, {}}).grade == Grade::Danger);
    // The HV joints are set against the HV current: 5.2 A are full load there, 1 A is too little to tell.
    CHECK(refusal_at("hv_jumpers.temperature", {{{"hv_jumpers.temperature", {26, 26, 26}},
                                                 {"hv_jumpers.ambient", {25}},
                                                 {"hv_jumpers.current", {1, 1, 1}}},
                                                {}}) == "no.joints.low_load");
    CHECK(verdict_at("hv_jumpers.temperature", {{{"hv_jumpers.temperature", {26, 26, 26}},
                                                 {"hv_jumpers.ambient", {25}},
                                                 {"hv_jumpers.current", {5.2, 5.2, 5.2}}},
                                                {}})
              .grade == Grade::Sound);
}

TEST_CASE("Load and voltage of the LV side reach their rules") {
    for (const char* id : {"lv_breaker.current", "restore.load"}) {
        // Full load is 133.3 A: S / (√3 U). Steps at 80 %, 100 % (common practice) and 150 % (IEC 60076-7).
        for (const auto& [amps, grade] : {std::pair(100.0, Grade::Sound),
                                          {120.0, Grade::Watch},
                                          {140.0, Grade::Repair},
                                          {201.0, Grade::Danger}}) {
            CHECK(verdict_at(id, {{{id, {amps, amps, amps, 5}}}, {}}).grade == grade);
        }
        CHECK(refusal_at(id, {{{id, {90, 50, 40, 250}}}, {}}) == "no.loading.neutral");
    }
    for (const char* id : {"lv_breaker.voltage", "restore.voltage"}) {
        // 460, 467 and 450 V: 2.146 % negative sequence by the closed formula; 2 % is EN 50160, from memory.
        const auto uneven = verdict_at(id, {{{id, {460, 467, 450}}}, {}});
        CHECK(uneven.grade == Grade::Watch);
        CHECK(working(uneven, "work.loading.unbalance_factor") == Approx(2.146).margin(0.0006));
        CHECK(verdict_at(id, {{{id, {428, 427, 429}}}, {}}).grade == Grade::Sound);
        CHECK(refusal_at(id, {{{id, {428, 0, 429}}}, {}}) == "no.loading.voltage");
    }
}

TEST_CASE("Wind and the test dates of gear reach their rules") {
    // 10 m/s for climbing, second hand; 12.5 m/s of EN 280 for platforms, second hand; 8 m/s is common
    // practice.
    for (const auto& [wind, grade] :
         {std::pair(3.5, Grade::Sound), {8.0, Grade::Watch}, {10.1, Grade::Danger}, {12.6, Grade::Danger}}) {
        CHECK(verdict_at("arrive.wind", {{{"arrive.wind", {wind}}}, {}}).grade == grade);
    }
    // Gloves 6 months (29 CFR 1910.137, Table I-5), hot stick 24 months (29 CFR 1910.269), harness and
    // detector practice. The earliest day that fits the full months counts.
    const auto gear = [](const char* id, double first, double second) {
        return verdict_at(id, {{{id, {first, second}}}, {}}).grade;
    };
    CHECK(gear("brief.gloves_harness", 0, 3) == Grade::Sound);
    CHECK(gear("brief.gloves_harness", 5, 0) == Grade::Watch);
    CHECK(gear("brief.gloves_harness", 6, 0) == Grade::Danger);
    CHECK(gear("brief.gloves_harness", 0, 6) == Grade::Danger);
    CHECK(gear("brief.sticks_detector", 8, 8) == Grade::Sound);
    CHECK(gear("brief.sticks_detector", 24, 0) == Grade::Danger);
    CHECK(gear("brief.sticks_detector", 0, 12) == Grade::Danger);
}

TEST_CASE("The next trim follows from the cut and the species") {
    const Numbers cut = {{"trees.trimmed_to", {3.5}}};
    // 1.9 m to grow at 0.61 m a year (a US state agency's class), read: more than two years.
    CHECK(verdict_at("trees.trimmed_to", {cut, {{"trees.species", "medium"}}}).grade == Grade::Sound);
    // Very fast growth, 3 m a year from memory, is back within 8 months.
    CHECK(verdict_at("trees.trimmed_to", {cut, {{"trees.species", "very_fast"}}}).grade == Grade::Repair);
}
