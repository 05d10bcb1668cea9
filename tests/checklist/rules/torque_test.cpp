#include "checklist/rules/torque.hpp"

#include "tests/support/catch.hpp"
#include "tests/support/shipped.hpp"

#include <limits>

using namespace crossarm;
using model::Grade;
using tests::refusal_in;
using tests::shipped_limits;
using tests::verdict_in;

TEST_CASE("torque of joints and fasteners: printed values") {
    struct Row {
        const char* set;
        const char* size;
        double printed_Nm;
    };
    // DIN 43673 as a busbar page prints it, manuals of two switchgear makers and of two machine makers; all
    // read, so no tolerance.
    const Row rows[] = {{"din43673-torque", "M6", 8},
                        {"din43673-torque", "M8", 20},
                        {"din43673-torque", "M10", 40},
                        {"din43673-torque", "M12", 70},
                        {"din43673-torque", "M16", 120},
                        {"switchgear-main-circuit-torque", "M8", 17},
                        {"switchgear-main-circuit-torque", "M10", 35},
                        {"switchgear-main-circuit-torque", "M12", 68},
                        {"switchgear-main-circuit-torque", "M16", 135},
                        {"switchgear-general-torque", "M6", 8.8},
                        {"switchgear-general-torque", "M8", 21},
                        {"switchgear-general-torque", "M10", 42},
                        {"switchgear-general-torque", "M12", 70},
                        {"switchgear-general-torque", "M16", 170},
                        {"switchgear-copper-torque", "M8", 21},
                        {"switchgear-copper-torque", "M10", 40},
                        {"switchgear-copper-torque", "M12", 70},
                        {"switchgear-copper-aluminium-torque", "M12", 50},
                        {"steel-zinc-torque", "M8", 26},
                        {"steel-zinc-torque", "M10", 52},
                        {"steel-zinc-torque", "M12", 90},
                        {"steel-zinc-torque", "M16", 225},
                        {"steel-plain-torque", "M8", 18},
                        {"steel-plain-torque", "M10", 37},
                        {"steel-plain-torque", "M12", 64},
                        {"steel-plain-torque", "M16", 158},
                        {"steel-chromate-torque", "M8", 25},
                        {"steel-chromate-torque", "M10", 49},
                        {"steel-chromate-torque", "M12", 85},
                        {"steel-chromate-torque", "M16", 210}};
    for (const Row& row : rows) {
        INFO(row.set << " " << row.size);
        const auto set = shipped_limits(row.set);
        const auto ask = [&](double Nm) {
            return verdict_in(rules::torque({row.size, "8.8", false, Nm}, set));
        };
        CHECK(tests::working(ask(row.printed_Nm), "work.torque.wanted") == row.printed_Nm);
        CHECK(ask(row.printed_Nm).grade == Grade::Sound);
        CHECK(ask(0.91 * row.printed_Nm).grade == Grade::Sound);
        CHECK(ask(0.89 * row.printed_Nm).because.key == "because.torque.low");
        CHECK(ask(1.09 * row.printed_Nm).grade == Grade::Sound);
        CHECK(ask(1.11 * row.printed_Nm).because.key == "because.torque.high");
    }
}

TEST_CASE("torque of electrical joints: the check value is 80 % of the tightening torque, DIN 43673, read") {
    const auto set = shipped_limits("din43673-torque");
    for (const auto& row : set.table("torque")->rows) {
        INFO(row.key);
        // Whole newton metres in print.
        CHECK(row.values[1] == Approx(0.8 * row.values[0]).margin(1.0));
    }
}

TEST_CASE("torque of steel fasteners: lubricated is the lower figure, in every row") {
    // Printed values of a machine maker's manual, read. Its sister manual has the two headings changed over.
    const auto set = shipped_limits("steel-structure-torque");
    struct Row {
        const char* size;
        const char* strength;
        double lubricated_Nm, dry_Nm;
    };
    const Row rows[] = {{"M8", "4.8", 12, 15},    {"M10", "4.8", 23, 29},  {"M12", "4.8", 40, 50},
                        {"M16", "4.8", 100, 125}, {"M8", "8.8", 22, 28},   {"M10", "8.8", 43, 55},
                        {"M12", "8.8", 75, 95},   {"M16", "8.8", 190, 240}};
    for (const Row& row : rows) {
        INFO(row.size << " class " << row.strength);
        const auto lubricated = verdict_in(rules::torque({row.size, row.strength, true, row.dry_Nm}, set));
        const auto dry = verdict_in(rules::torque({row.size, row.strength, false, row.dry_Nm}, set));
        CHECK(tests::working(lubricated, "work.torque.wanted") == row.lubricated_Nm);
        CHECK(tests::working(dry, "work.torque.wanted") == row.dry_Nm);
        CHECK(row.lubricated_Nm < row.dry_Nm);
        CHECK(lubricated.grade == Grade::Repair); // the dry figure stretches a greased bolt
    }
}

TEST_CASE("torque from K d F: derived values, and classes that must not stand in for each other") {
    struct Row {
        double k, diameter_mm, proof_MPa, area_mm2, Nm;
    };
    // K, stress areas and proof stresses from memory, results derived to the places given.
    const Row rows[] = {{0.20, 8, 225, 36.6, 9.9},   {0.20, 10, 225, 58.0, 19.6}, {0.20, 12, 225, 84.3, 34.1},
                        {0.20, 16, 225, 157, 84.8},  {0.20, 8, 580, 36.6, 25.5},  {0.17, 8, 580, 36.6, 21.7},
                        {0.20, 10, 580, 58.0, 50.5}, {0.17, 10, 580, 58.0, 42.9}, {0.20, 12, 580, 84.3, 88.0},
                        {0.17, 12, 580, 84.3, 74.8}, {0.20, 16, 580, 157, 218},   {0.17, 16, 580, 157, 186}};
    for (const Row& row : rows) {
        INFO("M" << row.diameter_mm << " K " << row.k);
        const double margin = row.Nm > 100 ? 0.6 : 0.06;
        CHECK(*rules::bolt_torque_Nm(row.k, row.diameter_mm, row.proof_MPa, row.area_mm2) ==
              Approx(row.Nm).margin(margin));
    }
    // A class 4.6 pole bolt has no row in the electrical set, rather than the 8.8 figure.
    CHECK(refusal_in(rules::torque({"M16", "4.6", false, 85.0}, shipped_limits("din43673-torque"))) ==
          "no.torque.row_dry");
    CHECK(refusal_in(rules::torque({"M12", "8.8", true, 50.0}, shipped_limits("din43673-torque"))) ==
          "no.torque.row_lubricated");
    // A mower maker prints 255 N·m beside 166 ft-lb for M16; 166 ft-lb is 225 N·m.
    CHECK(166.0 * 1.3558179 == Approx(225.0).margin(0.5));
}

TEST_CASE("torque: impossible numbers give no verdict") {
    const auto set = shipped_limits("din43673-torque");
    for (const double x : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                           -5.0, 0.0, 1e6}) {
        INFO(x);
        CHECK(refusal_in(rules::torque({"M12", "8.8", false, x}, set)) == "no.torque.applied");
        CHECK(!rules::bolt_torque_Nm(0.2, x, 580, 84.3));
        CHECK(!rules::bolt_torque_Nm(x, 12, 580, 84.3));
    }
    CHECK(refusal_in(rules::torque({"M12", "8.8", false, 70}, shipped_limits("neta-mts-contact"))) ==
          "no.limit_missing");
}
