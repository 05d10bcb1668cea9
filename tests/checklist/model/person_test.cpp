#include "checklist/model/register.hpp"
#include "tests/support/catch.hpp"

using namespace crossarm::model;

TEST_CASE("a competence holds up to and including its last day, and only for what it is") {
    const Date last = parse_date("2027-03-31", "").value();
    const Person person{"P-1", "A", {"crew"}, {{"accept_permit", last}}};
    CHECK(person.may("accept_permit", {last.days - 400}));
    CHECK(person.may("accept_permit", last));
    CHECK_FALSE(person.may("accept_permit", {last.days + 1}));
    CHECK_FALSE(person.may("issue_permit", last));
    CHECK_FALSE(person.may("", last));
    const Person lead{"P-2", "B", {"lead", "office"}};
    for (const std::string_view what : kCompetences) {
        CHECK_FALSE(lead.may(what, last));
    }
}
