// A bounded world for the permit: who is there, what they may wish, and three moments.
#pragma once

#include "checklist/visit/permit.hpp"

#include <array>
#include <string>
#include <vector>

namespace crossarm::proof {

using visit::permit::Act;
using visit::permit::State;

/// Somebody wishes something.
struct Wish {
    Act act;
    std::string by;
};
/// Wishes that are carried out one after the other and without anything between them: one of them, or the
/// whole proof of a side where its steps are explored in another world.
struct Move {
    std::string name;
    std::vector<Wish> wishes;
    std::string only_one_tool_of = {}; ///< the world has one tool a party: not offered while it is out
};
/// False where the world leaves a move out because another stands for it: a second tool, and a conductor that
/// is not the next one (guards and properties see only the set of those tested, so their order is the same).
[[nodiscard]] bool is_offered(const Move& move, const State& state);

/// The moments: before the first end of a permit, after it, and after every end that the rules allow.
inline constexpr std::array<std::int64_t, 3> kMoments = {0, 5 * 3'600'000, 13 * 3'600'000};
[[nodiscard]] inline model::Timestamp moment(std::size_t which) {
    return {kMoments.at(which), 0};
}

struct World {
    std::string name;
    visit::permit::Rules rules;
    visit::permit::Powers powers;
    State start;
    std::vector<Move> moves;
    std::vector<std::size_t> moments = {0, 1, 2}; ///< those that this world passes through
};

/// Points, locks, supplies, live part and zone one by one, from nothing; a proof is one move; one party.
[[nodiscard]] World points_world(bool off_after_cancelling);
/// Behind locked points: detector, conductors, earths and lead's decisions one by one; one party. A proof
/// ages between its two moments.
[[nodiscard]] World proving_world(bool off_after_cancelling, bool earth_lv_too);
/// Isolated; three people, the first party with a tool and a working earth (each guard about them asks about
/// one party alone), control earths, stop, transfer, extension; a proof is one move, and so are both ends of
/// the LV earth. `two`: a second party, and the two moments before and after an end; otherwise one party and
/// the third moment too, when every hour that the rules allow is over.
[[nodiscard]] World parties_world(bool off_after_cancelling, bool two);

} // namespace crossarm::proof
