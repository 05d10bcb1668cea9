// PINs on a tablet of the tests: everybody has the same one, and its hash costs nothing.
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/store/store.hpp"
#include "ui/screens/place.hpp"

#include <algorithm>
#include <optional>
#include <stdexcept>
#include <string>

namespace crossarm::tests {

inline constexpr const char* kTestPin = "271828";
inline constexpr const char* kWithoutPin = "P-032"; ///< the one who has chosen none yet
inline constexpr store::PinCost kCheapPin{1, 8192};

/// The wish with which a person takes the tablet.
inline ui::TakeOver taken_by(const std::string& person) {
    return {person, person == kWithoutPin ? "" : kTestPin};
}

/// Gives everybody in the register a PIN, but for one. Throws std::runtime_error.
inline void give_pins(store::Store& store, const model::Register& reg, model::Timestamp now) {
    const auto lead =
        std::ranges::find_if(reg.people, [](const model::Person& one) { return one.is("lead"); });
    const auto give = [&](const model::Person& person, const std::optional<store::PinWitness>& witness) {
        if (const auto set = store.set_pin(person, kTestPin, witness, {now, 1.0}, kCheapPin); !set) {
            throw std::runtime_error(model::to_text(set.problem()));
        }
    };
    give(*lead, std::nullopt);
    for (const model::Person& person : reg.people) {
        if (person.id != lead->id && person.id != kWithoutPin) {
            give(person, store::PinWitness{*lead, kTestPin});
        }
    }
}

} // namespace crossarm::tests
