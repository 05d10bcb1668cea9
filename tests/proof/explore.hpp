// Walks through every state that a world can reach, asking the real guards and the real apply.
#pragma once

#include "tests/proof/key.hpp"
#include "tests/proof/properties.hpp"

#include <map>
#include <string>
#include <vector>

namespace crossarm::proof {

using visit::permit::Guard;

/// A reached state in which one wish is refused by one guard alone.
struct Witness {
    State state;
    std::size_t now = 0;
    std::size_t move = 0;
};

struct Explored {
    std::size_t states = 0, edges = 0;
    std::size_t closed = 0;    ///< states in which the permit has come to its end
    std::size_t dead_ends = 0; ///< states from which no closed one can be reached
    std::string complaint;     ///< the first broken property, and how it came about; empty: all hold
    std::string dead_end;      ///< one of them
    std::map<std::string, std::vector<Witness>> witnesses; ///< by guard
};

/// Every state from the world's start, under these guards. Stops at the first broken property.
[[nodiscard]] Explored explore(const World& world, std::span<const Guard> guards,
                               bool with_witnesses = false);

/// What breaks when this wish is let through in the witness's state, and from there on under these guards:
/// a property or "dead end"; empty when nothing does within `most` states.
[[nodiscard]] std::string consequence(const World& world, const Witness& witness,
                                      std::span<const Guard> guards, std::size_t most);

} // namespace crossarm::proof
