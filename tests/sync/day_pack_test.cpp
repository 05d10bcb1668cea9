#include "sync/bundle/day_pack.hpp"

#include "checklist/model/canonical.hpp"
#include "sync/bundle/assets.hpp"
#include "sync/seal/frame.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/test_keys.hpp"

#include <nlohmann/json.hpp>

#include <functional>

using namespace crossarm;
using nlohmann::json;

namespace {

bundle::DayPack sample_pack() {
    bundle::DayPack pack;
    pack.number = 12;
    pack.office = "Quillmere Valley Power Cooperative, Tollgate depot";
    pack.made_at = {1'773'448'200'000, 330};
    pack.reg.structures = {tests::sample_structure(1), tests::sample_structure(7)};
    pack.reg.people = {{"P-014", "Ilse Tarn", {"crew"}},
                       {"P-003", "Odo Brandt", {"crew", "lead"}, {{"issue_permit", {20'543}}}}};
    pack.reg.utility = {"Control room, extension 100", "Emergency, extension 199"};
    pack.reg.due = {{"QM-0107", "upkeep", {20'526}, "yearly"}};
    pack.reg.earlier = {
        {"QM-0107", "oil.level", {20'150}, model::Grade::Watch},
        {"QM-0107", "oil.breakdown", {20'150}, model::Readings{{{41.2, model::Unit::Kilovolt}}}},
        {"QM-0107", "trees.clearance", {20'150}, model::Quantity{3.25, model::Unit::Metre}},
        {"QM-0107", "breather.colour", {20'150}, model::Choice{{"blue"}}},
        {"QM-0107", "arrive.note", {20'150}, model::Remark{"gate sticks"}}};
    model::LimitSet set;
    set.id = "quillmere-oil";
    set.subject = "oil.in_service";
    set.title = "Quillmere rule 7";
    set.edition = "2025";
    set.applies = "11 kV";
    set.limits = {{"breakdown.good_above", {45.0, model::Unit::Kilovolt}, "7.2", "read", ""}};
    set.tables = {{"torque", "7.3", {"low"}, {model::Unit::NewtonMetre}, {{"M12", {45.0}, "read"}}}};
    pack.limits = {set};
    pack.chosen_limits = {{"oil.in_service", "quillmere-oil"}};
    return pack;
}

std::string what(const std::string& bytes) {
    const auto read = bundle::read_day_pack(bytes, "p.json", tests::office_ring());
    return read ? "" : model::to_text(read.problem());
}

/// The pack with its body changed and sealed anew.
std::string changed(const std::function<void(json&)>& change) {
    json body = json::parse(bundle::write_day_pack(sample_pack(), tests::office_key()))["body"];
    change(body);
    return seal::wrap_introduced(model::canonical(body), seal::Kind::DayPack, tests::office_key());
}

} // namespace

TEST_CASE("a day pack reads back as it was written") {
    const bundle::DayPack pack = sample_pack();
    const std::string bytes = bundle::write_day_pack(pack, tests::office_key());
    const auto read = bundle::read_day_pack(bytes, "p.json", tests::office_ring());
    INFO(what(bytes));
    REQUIRE(read.ok());
    CHECK(read->number == 12);
    CHECK(read->office == pack.office);
    CHECK(read->made_at == pack.made_at);
    CHECK(read->reg.structures == pack.reg.structures);
    CHECK(read->reg.people == pack.reg.people);
    CHECK(read->reg.due == pack.reg.due);
    CHECK(read->reg.utility == pack.reg.utility);
    CHECK(read->reg.earlier == pack.reg.earlier);
    CHECK(read->limits == pack.limits);
    CHECK(read->chosen_limits == pack.chosen_limits);
    CHECK(bundle::write_day_pack(*read, tests::office_key()) == bytes);
}

TEST_CASE("every limit set that comes with the program travels in a day pack unchanged") {
    const auto assets = bundle::assets_dir();
    REQUIRE(assets.ok());
    const auto limits = bundle::load_limits(*assets);
    INFO((limits ? "" : model::to_text(limits.problem())));
    REQUIRE(limits.ok());
    bundle::DayPack pack = sample_pack();
    pack.limits = limits->sets;
    const auto read = bundle::read_day_pack(bundle::write_day_pack(pack, tests::office_key()), "p.json",
                                            tests::office_ring());
    REQUIRE(read.ok());
    CHECK(read->limits == limits->sets);
}

TEST_CASE("what is wrong with a day pack is told with file, place and remedy") {
    struct Case {
        std::function<void(json&)> change;
        std::string expected;
    };
    const std::vector<Case> cases = {
        {[](json& body) { body["number"] = 0; },
         "p.json: /body/number: day packs are numbered from 1; ask the office for a new day pack"},
        {[](json& body) { body.erase("office"); }, "p.json: /body/office: \"office\" is missing; add it"},
        {[](json& body) { body["register"]["due"][0]["structure"] = "QM-0117"; },
         "p.json: /body/register/due/0: unknown structure \"QM-0117\"; nearest is \"QM-0107\"; correct the "
         "id, or add "
         "the structure to the register"},
        {[](json& body) { body["register"]["structures"][1]["id"] = "QM-0101"; },
         "p.json: /body/register/structures/1: the id \"QM-0101\" stands here a second time; keep one of the "
         "two rows, "
         "or correct the id of one"},
        {[](json& body) { body["register"]["people"][0]["roles"] = {"boss"}; },
         "p.json: /body/register/people/0/roles: \"boss\" is not one of: crew, lead, office; give the roles "
         "the person "
         "has: crew, lead, office"},
        {[](json& body) { body["register"]["people"][1]["competences"][0]["what"] = "fly"; },
         "p.json: /body/register/people/1/competences: \"fly\" is not one of: issue_permit, accept_permit, "
         "sign_visit, first_aid, climb; give each competence once, with its last day"},
        {[](json& body) { body["register"]["people"][1]["competences"][0]["until"] = "2027-02-30"; },
         "p.json: /body/register/people/1/competences/0/until: \"2027-02-30\" is not a date; write "
         "a calendar day as 2026-03-14"},
        {[](json& body) { body["register"]["utility"]["emergency_call"] = std::string(121, 'x'); },
         "p.json: /body/register/utility/emergency_call: the text is longer than 120 bytes; write whom to "
         "call and the number, or leave it out"},
        {[](json& body) { body["register"]["structures"][0]["rating_kva"] = 100; },
         "p.json: /body/register/structures/0/rating_kva: unknown member \"rating_kva\"; take it out or "
         "correct its "
         "name"},
        {[](json& body) { body["register"]["structures"][0]["hv_kV"] = "11"; },
         "p.json: /body/register/structures/0/hv_kV: this is not a number; write the HV voltage in kV, for "
         "example 11"},
        {[](json& body) { body["format"] = "crossarm.bundle/1"; },
         "p.json: /body/format: \"crossarm.bundle/1\" is not \"crossarm.day-pack/1\"; give a day pack of "
         "this version, "
         "or install the version that reads it"},
    };
    for (const Case& one : cases) {
        CHECK(what(changed(one.change)) == one.expected);
    }
}

TEST_CASE("a day pack cut at any byte or changed in any byte is refused") {
    const std::string bytes = bundle::write_day_pack(sample_pack(), tests::office_key());
    std::size_t taken = 0;
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        std::string flipped = bytes;
        flipped[i] = static_cast<char>(flipped[i] ^ 0x01);
        taken += bundle::read_day_pack(flipped, "p.json", tests::office_ring()).ok() ? 1U : 0U;
        taken +=
            bundle::read_day_pack(std::string_view(bytes).substr(0, i), "p.json", tests::office_ring()).ok()
                ? 1U
                : 0U;
    }
    CHECK(taken == 0);
}
