// What a PIN must be, and how long a person waits after wrong ones: pure.
#pragma once

#include "checklist/model/result.hpp"

#include <cstdint>
#include <optional>
#include <string_view>

namespace crossarm::store {

constexpr std::size_t kLeastPinDigits = 6;
constexpr std::size_t kMostPinDigits = 12;

/// Why a PIN cannot be chosen. All digits alike (777777), a straight run up or down (345678, 987654, 678901)
/// and one pair over and over (4747474) are what is tried first.
enum class PinFlaw { NotDigits, TooShort, TooLong, OneDigit, Run, OnePair };
[[nodiscard]] std::optional<PinFlaw> flaw_of_pin(std::string_view digits);
/// The same as a sentence with its remedy; it never holds the digits.
[[nodiscard]] model::Problem problem_of(PinFlaw flaw);

constexpr int kFreePinTries = 3;              ///< the third wrong try in a row begins the waiting
constexpr double kFirstPinWait_s = 5.0;       ///< doubled by every further one
constexpr double kLongestPinWait_s = 15 * 60; ///< and never longer
/// Seconds to wait after `wrong` wrong tries in a row: 0, 0, 0, 5, 10, 20 ... 900.
[[nodiscard]] double pin_wait_after(std::int64_t wrong);

/// What is left of a wait, in seconds, 0 when it is over. Both readings are seconds since the tablet was
/// started (CLOCK_BOOTTIME): that clock counts on while the tablet sleeps, and nobody can set it. A reading
/// below the one of the last wrong try means that the tablet was restarted meanwhile; then as much time has
/// passed as it has been running, at least. So the answer is never too small, whatever was done to the
/// calendar clock or the program; after a restart it can be too large, by up to the whole wait.
[[nodiscard]] double pin_wait_left(double wait_s, double since_boot_then_s, double since_boot_now_s);

} // namespace crossarm::store
