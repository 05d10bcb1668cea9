// Every reachable state of a bounded permit: the properties hold and nothing is a dead end.
#include "tests/proof/explore.hpp"
#include "tests/support/catch.hpp"

#include <chrono>
#include <iostream>

using namespace crossarm;
using namespace crossarm::proof;

namespace {

// Signatures are fixed in these worlds: whoever may sign can always sign the sheet as it stands, so the
// guards that compare digests close no way. They have a table of their own.
std::vector<Guard> guards_without_signing() {
    std::vector<Guard> list;
    for (const Guard& guard : visit::permit::guards()) {
        if (!std::string_view(guard.name).starts_with("signed_")) {
            list.push_back(guard);
        }
    }
    return list;
}

std::vector<World> worlds() {
    return {points_world(true),         points_world(false),         proving_world(true, true),
            proving_world(true, false), proving_world(false, true),  proving_world(false, false),
            parties_world(true, false), parties_world(false, false), parties_world(true, true),
            parties_world(false, true)};
}

} // namespace

TEST_CASE("every reachable state of a permit keeps people from supply, and can still come to its end") {
    std::size_t states = 0;
    std::size_t edges = 0;
    const auto guards = guards_without_signing();
    for (const World& world : worlds()) {
        const auto begin = std::chrono::steady_clock::now();
        const Explored explored = explore(world, guards);
        const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
        std::cout << world.name << ": " << explored.states << " states, " << explored.edges << " acts, "
                  << explored.closed << " closed, " << took.count() << " s" << std::endl;
        INFO(explored.complaint << explored.dead_end);
        CHECK(explored.complaint.empty());
        CHECK(explored.dead_ends == 0);
        CHECK(explored.closed > 0);
        states += explored.states;
        edges += explored.edges;
    }
    std::cout << "permit: " << states << " states and " << edges << " acts explored\n";
}
