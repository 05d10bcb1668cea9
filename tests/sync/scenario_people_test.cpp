// The invented cooperative has people enough for a permit, and what a briefing needs.
#include "sync/office/register_file.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>

using namespace crossarm;

TEST_CASE(
    "the scenario has people to issue, accept and sign, some whose competence ran out, and whom to call") {
    const std::string folder = std::string(CROSSARM_SOURCE_DIR) + "/demo/scenario/";
    const auto read =
        office::read_register({folder + "register.csv", folder + "people.csv", folder + "due.csv",
                               folder + "earlier.csv", folder + "utility.csv"});
    REQUIRE(read.problems.empty());
    const model::Date day = model::parse_date("2026-11-25", "").value();
    const auto count = [&](std::string_view what, std::string_view role) {
        return std::ranges::count_if(read.reg.people, [&](const model::Person& person) {
            return person.may(what, day) && person.is(role);
        });
    };
    CHECK(count("issue_permit", "lead") >= 2);
    CHECK(count("accept_permit", "crew") >= 3);
    CHECK(count("sign_visit", "lead") >= 2);
    CHECK(count("first_aid", "crew") >= 2);
    CHECK(count("climb", "crew") >= 2);
    CHECK_FALSE(read.reg.person("P-014")->may("climb", day));
    CHECK_FALSE(read.reg.person("P-032")->may("sign_visit", day));
    CHECK(read.reg.person("P-030")->competences.empty());
    CHECK_FALSE(read.reg.utility.control_room_call.empty());
    CHECK_FALSE(read.reg.utility.emergency_call.empty());
    for (const model::Structure& structure : read.reg.structures) {
        CHECK_FALSE(structure.hospital.empty());
        CHECK(structure.hospital_minutes.has_value());
    }
}
