// What a signed uprating visit does to the register: the next day pack has the new plate, once, in any order.
#include "sync/office/new_units.hpp"

#include "sync/bundle/day_pack.hpp"
#include "sync/bundle/recorded_plate.hpp"
#include "sync/office/command.hpp"
#include "sync/office/register_csv.hpp"
#include "sync/office/register_file.hpp"
#include "tests/support/office_desk.hpp"
#include "tests/support/uprating_visit.hpp"

#include <map>
#include <set>

using namespace crossarm;
using tests::UpratingVisit;

namespace {

const std::string kRegister = std::string(CROSSARM_SOURCE_DIR) + "/demo/scenario/register.csv";

model::Register scenario() {
    office::RegisterFiles files;
    files.reg = kRegister;
    auto read = office::read_register(files);
    REQUIRE(read.problems.empty());
    return std::move(read.reg);
}

model::Structure outgrown() {
    const model::Register reg = scenario();
    REQUIRE(reg.structure("QM-0110") != nullptr);
    return *reg.structure("QM-0110");
}

UpratingVisit signed_visit(const tests::Given& given = tests::plate_of_315()) {
    UpratingVisit visit(outgrown());
    visit.done(given);
    REQUIRE(visit.sign().empty());
    return visit;
}

tests::Given with(const char* checkpoint, model::Value value) {
    tests::Given given = tests::plate_of_315();
    given[checkpoint] = std::move(value);
    return given;
}

office::NewUnit unit_of(const UpratingVisit& visit) {
    office::NewUnit unit;
    unit.structure = "QM-0110";
    unit.before = outgrown().plate;
    unit.state = visit.state();
    unit.after = *bundle::recorded_plate(unit.state, unit.before, unit.left_out);
    return unit;
}

} // namespace

TEST_CASE("the next day pack carries the plate of the unit that a signed uprating visit put up") {
    const tests::OfficeDesk desk;
    const UpratingVisit visit = signed_visit();
    {
        auto store = desk.open();
        desk.put("visit.json", tests::sealed(visit.bundle()).bytes);
        const auto intake = desk.take_in(store);
        REQUIRE(intake.lines.size() == 1);
        INFO((intake.lines.front().why ? model::to_text(*intake.lines.front().why) : ""));
        REQUIRE(intake.count(office::Line::Kind::Taken) == 1);
    }
    const std::string pack = desk.folder.file("pack.json");
    const auto made = office::run_command({"pack", "--register", kRegister, "--number", "5", "--office",
                                           "Quillmere Valley Power Cooperative", "--at",
                                           "2026-11-26T06:00:00+01:00", "--out", pack, "--store", desk.path},
                                          tests::kOfficeNow);
    INFO(made.err);
    REQUIRE(made.code == 0);
    CHECK(made.out.find("QM-0110: 315 kVA Norrin Windings, serial NO-26-0417 taken into the day pack") !=
          std::string::npos);
    const auto slip = office::run_command(
        {"lettering", "--register", kRegister, "--store", desk.path, "--structure", "QM-0110"},
        tests::kOfficeNow);
    CHECK(slip.out == "Bramblet Cross\nQM-0110\n315 kVA\nNorrin Windings\nNO-26-0417\n");
    const std::string written = desk.folder.file("register.csv");
    const auto again = office::run_command(
        {"register", "--register", kRegister, "--store", desk.path, "--out", written}, tests::kOfficeNow);
    INFO(again.err);
    REQUIRE(again.code == 0);
    office::RegisterFiles files;
    files.reg = written;
    const auto reread = office::read_register(files);
    REQUIRE(reread.problems.empty());
    CHECK(reread.reg.structure("QM-0110")->plate.serial == "NO-26-0417");
    CHECK(reread.reg.structure("QM-0110")->plate.mass_kg == 1240.0);

    const std::string page = desk.folder.file("after.html");
    const auto study = office::run_command(
        {"study", "--register", kRegister, "--structure", "QM-0110", "--store", desk.path, "--after", page},
        tests::kOfficeNow);
    INFO(study.err);
    CHECK(study.code == 0);
    CHECK(study.out.find("Present transformer: 315") != std::string::npos);
    CHECK(tests::read_file(page).find("From 200\u00a0kVA to 315\u00a0kVA") != std::string::npos);
    const std::string bytes = tests::read_file(pack);
    const auto store = desk.open();
    const auto key = office::office_key(store, tests::kOfficeNow);
    REQUIRE(key.ok());
    seal::KeyRing ring;
    ring.add({key->pair.public_key(), {seal::Owner::Kind::Office, "Quillmere Valley Power Cooperative"}});
    const auto read = bundle::read_day_pack(bytes, "pack.json", ring);
    REQUIRE(read.ok());
    const model::Structure* at = read->reg.structure("QM-0110");
    REQUIRE(at != nullptr);
    CHECK(at->plate.rating_kVA == 315.0);
    CHECK(at->plate.serial == "NO-26-0417");
    CHECK(at->plate.impedance_percent == 4.62);
    CHECK(at->plate.mass_kg == 1240.0);
    CHECK(at->plate.oil_litres == 310.0);
    CHECK(at->plate.load_loss_W == 3900.0);
    CHECK(at->plate.made_year == 2026);
    CHECK(at->plate.vector_group == "Dyn11");
    CHECK(at->plate.breather == "orange");
    CHECK(at->plate.hv_fuse == "25 K");
    CHECK(at->plate.lv_breaker == "1 x 500 A ACB");
    CHECK(at->customers == outgrown().customers);
    // Every other structure is as the register has it.
    for (const model::Structure& other : scenario().structures) {
        if (other.id != "QM-0110") {
            CHECK(*read->reg.structure(other.id) == other);
        }
    }
}

TEST_CASE("structures written as CSV read back the same, commas, quotes and line ends included") {
    std::vector<model::Structure> all = scenario().structures;
    all.at(0).note = "Gate \"north\", then left\nBeware of the dog ";
    all.at(1).plate.mass_kg.reset();
    std::vector<model::Problem> problems;
    const auto read = office::read_structures_csv(office::write_structures_csv(all), "again.csv", problems);
    CHECK(problems.empty());
    CHECK(read.items == all);
}

TEST_CASE("the lettering names place, number, rating, make and serial number") {
    model::Structure at = outgrown();
    CHECK(bundle::lettering(at) ==
          std::vector<std::string>{"Bramblet Cross", "QM-0110", "200 kVA", "Alderworks", "AL-10-4433"});
    at.plate = unit_of(signed_visit()).after;
    CHECK(bundle::lettering(at) ==
          std::vector<std::string>{"Bramblet Cross", "QM-0110", "315 kVA", "Norrin Windings", "NO-26-0417"});
    at.plate.make = "";
    CHECK(bundle::lettering(at).size() == 4);
}

TEST_CASE("only a signed visit whose unit is bolted on its frame changes the register") {
    struct Row {
        const char* what;
        tests::Given given;
        bool sign;
        std::size_t units;
    };
    const Row rows[] = {{"signed, bolted", tests::plate_of_315(), true, 1},
                        {"not signed", tests::plate_of_315(), false, 0},
                        {"not put up", with("tank.set", model::Choice{{"not_set"}}), true, 0}};
    for (const Row& row : rows) {
        INFO(row.what);
        const tests::OfficeDesk desk;
        auto store = desk.open();
        UpratingVisit visit(outgrown());
        visit.done(row.given);
        if (row.sign) {
            const std::string refused = visit.sign();
            INFO(refused);
            REQUIRE(refused.empty());
        }
        bundle::Bundle made = visit.bundle();
        made.is_open = !row.sign;
        desk.put("visit.json", tests::sealed(made).bytes);
        (void)desk.take_in(store);
        const auto units = office::new_units(store);
        REQUIRE(units.ok());
        CHECK(units->size() == row.units);
    }
}

TEST_CASE("what was not read on the new plate is not known, and never the old unit's") {
    const office::NewUnit unit = unit_of(signed_visit(with("plate.conservator", model::Choice{{"no"}})));
    CHECK_FALSE(unit.after.conservator);
    CHECK(unit.left_out.empty());
    visit::State bare;
    const auto put = [&](const char* checkpoint, model::Value value) {
        bare.answers[checkpoint].finding.value = std::move(value);
    };
    std::vector<std::string> left_out;
    CHECK_FALSE(bundle::recorded_plate(bare, unit.before, left_out));
    put("plate.rating", model::Quantity{250, model::Unit::KilovoltAmpere});
    CHECK_FALSE(bundle::recorded_plate(bare, unit.before, left_out));
    put("plate.serial", model::Remark{"X-1"});
    put("plate.mass", model::Quantity{1e9, model::Unit::Kilogram});
    const auto plate = bundle::recorded_plate(bare, unit.before, left_out);
    REQUIRE(plate);
    CHECK_FALSE(plate->mass_kg);
    CHECK_FALSE(plate->impedance_percent);
    CHECK(plate->hv_fuse == unit.before.hv_fuse);
    REQUIRE(left_out.size() == 1);
    CHECK(left_out.front().starts_with("mass_kg: "));
}

TEST_CASE("the clerk's register comes first, and a unit is taken up once") {
    using Kind = office::Uptake::Kind;
    const office::NewUnit unit = unit_of(signed_visit());
    model::Register reg = scenario();
    CHECK(office::take_up(reg, {unit}).at(0).kind == Kind::TakenUp);
    const model::Register once = reg;
    CHECK(office::take_up(reg, {unit}).at(0).kind == Kind::Known);
    CHECK(reg.structure("QM-0110")->plate == once.structure("QM-0110")->plate);

    // The clerk entered the new unit and corrected a figure: it stays.
    reg.structures.at(9).plate.mass_kg = 1250.0;
    REQUIRE(reg.structures.at(9).id == "QM-0110");
    CHECK(office::take_up(reg, {unit}).at(0).kind == Kind::Known);
    CHECK(reg.structure("QM-0110")->plate.mass_kg == 1250.0);

    reg.structures.at(9).plate.serial = "SOMETHING-ELSE";
    CHECK(office::take_up(reg, {unit}).at(0).kind == Kind::Disputed);
    CHECK(reg.structure("QM-0110")->plate.serial == "SOMETHING-ELSE");
    CHECK_FALSE(office::uptake_text({Kind::Disputed, unit}).empty());

    reg.structures.erase(reg.structures.begin() + 9);
    CHECK(office::take_up(reg, {unit}).at(0).kind == Kind::NoRow);
}

TEST_CASE("units put up one after the other are taken up from whatever the register knows") {
    using Kind = office::Uptake::Kind;
    const office::NewUnit first = unit_of(signed_visit());
    office::NewUnit second = first;
    second.before = first.after;
    second.after.rating_kVA = 400.0;
    second.after.serial = "NO-31-0002";
    const std::vector<office::NewUnit> both = {first, second};
    model::Register reg = scenario();
    CHECK(office::take_up(reg, both).at(1).kind == Kind::TakenUp);
    CHECK(reg.structure("QM-0110")->plate.rating_kVA == 400.0);
    // The register has the second already: the first is history.
    const auto again = office::take_up(reg, both);
    CHECK(again.at(0).kind == Kind::Known);
    CHECK(again.at(1).kind == Kind::Known);
    CHECK(reg.structure("QM-0110")->plate.serial == "NO-31-0002");
}

TEST_CASE("a second unit beside the first leaves the first one's row alone") {
    using Kind = office::Uptake::Kind;
    office::NewUnit unit = unit_of(signed_visit(with("plate.goes", model::Choice{{"beside"}})));
    unit.beside = true;
    model::Register reg = scenario();
    CHECK(office::take_up(reg, {unit}).at(0).kind == Kind::Beside);
    CHECK(*reg.structure("QM-0110") == outgrown());
    model::Structure row = outgrown();
    row.id = "QM-0110B";
    row.plate = unit.after;
    reg.structures.push_back(row);
    CHECK(office::take_up(reg, {unit}).at(0).kind == Kind::Known);
}

TEST_CASE("every fact of the register's plate is asked for at the uprating visit") {
    const office::NewUnit unit = unit_of(signed_visit());
    CHECK(unit.after.impedance_percent);
    CHECK(unit.after.oil_litres);
    CHECK(unit.after.mass_kg);
    CHECK(unit.after.no_load_loss_W);
    CHECK(unit.after.load_loss_W);
    CHECK(unit.after.top_oil_rise_K);
    CHECK(unit.after.made_year);
    CHECK(unit.after.gel_kg);
    for (const std::string& text : {unit.after.make, unit.after.serial, unit.after.vector_group,
                                    unit.after.breather, unit.after.hv_fuse, unit.after.lv_breaker}) {
        CHECK_FALSE(text.empty());
    }
}
