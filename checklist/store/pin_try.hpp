// What a try of a PIN answers, and what it needs to be told.
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/model/timestamp.hpp"

#include <cstdint>
#include <string_view>

namespace crossarm::store {

/// The two clocks at the moment of a try. `wall` is only noted with a new PIN.
struct PinMoment {
    model::Timestamp wall;
    double since_boot_s = 0.0; ///< CLOCK_BOOTTIME; finite, from 0
};
/// The system's CLOCK_BOOTTIME in seconds; a test gives its own.
[[nodiscard]] double seconds_since_boot();

/// Wait: the PIN was not looked at, and the try was not counted.
enum class PinAnswer { Right, Wrong, Wait, NoPin };
struct PinTry {
    PinAnswer answer = PinAnswer::NoPin;
    std::int64_t wrong = 0; ///< wrong tries in a row, with this one
    double wait_s = 0.0;    ///< until the next try is looked at
    bool operator==(const PinTry&) const = default;
};

/// The person who confirms that a PIN is set, and the own PIN of that person.
struct PinWitness {
    model::Person person;
    std::string_view digits;
};

} // namespace crossarm::store
