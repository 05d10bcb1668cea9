// What must hold in every state and over every act, said without the guards' own words.
#pragma once

#include "tests/proof/world.hpp"

#include <optional>
#include <span>

namespace crossarm::proof {

/// One act that was carried out.
struct Happened {
    const World& world;
    const State& before;
    const State& after;
    const Wish& wish;
    model::Timestamp at;
};

struct Property {
    const char* name;
    bool (*holds)(const Happened&); ///< false: broken by this act or in the state after it
};
[[nodiscard]] std::span<const Property> properties();
/// The first property that is broken; null when all hold.
[[nodiscard]] const Property* broken(const Happened& happened);

/// Properties of a state that time alone could break.
[[nodiscard]] const char* broken_by_time(const World& world, const State& state, model::Timestamp now);

} // namespace crossarm::proof
