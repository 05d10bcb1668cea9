// Each guard taken out, one at a time: something that must hold is then broken. A guard whose absence nothing
// notices fails here.
#include "tests/proof/explore.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/permit_story.hpp"

#include <iostream>
#include <set>

using namespace crossarm;
using namespace crossarm::proof;

namespace {

std::vector<Guard> guards_but(std::string_view out, bool signing) {
    std::vector<Guard> list;
    for (const Guard& guard : visit::permit::guards()) {
        if (guard.name != out && (signing || !std::string_view(guard.name).starts_with("signed_"))) {
            list.push_back(guard);
        }
    }
    return list;
}

// What an exhaustive look finds broken, in the world where it shows first.
struct Noticed {
    std::string guard, consequence;
};
std::vector<Noticed> noticed_by_exploring() {
    std::vector<Noticed> found;
    std::set<std::string> done;
    for (const tests::Behaviour& row : tests::behaviours()) {
        done.insert(row.guard); // noticed by its own row below
    }
    for (const World& world : {points_world(true), points_world(false), proving_world(true, false),
                               parties_world(true, false), parties_world(false, false)}) {
        const Explored explored = explore(world, guards_but("", false), true);
        for (const auto& [guard, witnesses] : explored.witnesses) {
            if (done.contains(guard)) {
                continue;
            }
            const auto mutant = guards_but(guard, false);
            for (const Witness& witness : witnesses) {
                const std::string broken = consequence(world, witness, mutant, 3000);
                if (!broken.empty()) {
                    found.push_back({guard, broken});
                    done.insert(guard);
                    break;
                }
            }
        }
    }
    return found;
}

} // namespace

TEST_CASE("each guard taken out is noticed") {
    std::set<std::string> noticed;
    for (const Noticed& one : noticed_by_exploring()) {
        std::cout << one.guard << " -> " << one.consequence << '\n';
        noticed.insert(one.guard);
    }
    std::size_t by_behaviour = 0;
    for (const tests::Behaviour& row : tests::behaviours()) {
        INFO(row.guard << ", " << row.what);
        const auto wished = tests::wished(row);
        const auto with = visit::permit::refusal(wished.ask());
        REQUIRE(with.has_value());
        CHECK(with->why.key == row.key);
        const auto without = visit::permit::refusal(wished.ask(), guards_but(row.guard, true));
        CHECK_FALSE(without.has_value());
        if (with && !without) {
            by_behaviour += noticed.insert(row.guard).second ? 1 : 0;
        }
    }
    for (const Guard& guard : visit::permit::guards()) {
        INFO(guard.name);
        CHECK(noticed.contains(guard.name));
    }
    std::cout << visit::permit::guards().size() << " guards: " << noticed.size() - by_behaviour
              << " break a property when taken out, " << by_behaviour << " more a behaviour\n";
}
