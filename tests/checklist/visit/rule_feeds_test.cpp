// The seam between protocol, limit sets and rules.
#include "tests/support/fed_visit.hpp"

using namespace crossarm;
using namespace tests;

TEST_CASE("Every rule that the upkeep protocol feeds is known, and every known rule is fed") {
    std::set<std::string> fed_by_protocol;
    for (const auto& checkpoint : upkeep().checkpoints) {
        if (!checkpoint.feeds.empty()) {
            fed_by_protocol.insert(checkpoint.feeds);
        }
    }
    const std::vector<std::string> names = visit::rule_names();
    CHECK(fed_by_protocol == std::set<std::string>(names.begin(), names.end()));
    CHECK(fed_by_protocol.size() == names.size());
}

TEST_CASE("Every subject with several limit sets has a chosen one") {
    std::map<std::string, int> sets;
    for (const auto& set : library().sets) {
        ++sets[set.subject];
    }
    std::map<std::string, std::string> chosen(library().chosen.begin(), library().chosen.end());
    for (const auto& [subject, number] : sets) {
        INFO(subject);
        CHECK((number == 1 || chosen.contains(subject)));
    }
    for (const auto& [subject, id] : chosen) {
        INFO(id);
        const auto* set = library().by_id(id);
        REQUIRE(set != nullptr);
        CHECK(set->subject == subject);
    }
}

TEST_CASE("Without limit sets every rule says so") {
    for (const auto& checkpoint : upkeep().checkpoints) {
        if (checkpoint.feeds.empty()) {
            continue;
        }
        INFO(checkpoint.id);
        FedVisit visit;
        visit.limits = {};
        if (const auto* several = std::get_if<model::NumbersInput>(&checkpoint.input)) {
            visit.numbers[checkpoint.id] = std::vector<double>(several->names.size(), 1.0);
        } else if (std::holds_alternative<model::NumberInput>(checkpoint.input)) {
            visit.numbers[checkpoint.id] = {1.0};
        } else {
            visit.choices[checkpoint.id] = "none";
        }
        const auto outcome = fed(checkpoint.id, visit);
        REQUIRE(outcome);
        const auto* refused = std::get_if<model::NoVerdict>(&*outcome);
        REQUIRE(refused != nullptr);
        CHECK(refused->why.key == "no.limits");
    }
}
