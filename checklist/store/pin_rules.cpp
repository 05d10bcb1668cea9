#include "checklist/store/pin_rules.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace crossarm::store {

namespace {

bool steps_by(std::string_view digits, int step) {
    for (std::size_t i = 1; i < digits.size(); ++i) {
        if ((digits[i - 1] - '0' + step + 10) % 10 != digits[i] - '0') {
            return false;
        }
    }
    return true;
}

const char* what_of(PinFlaw flaw) {
    switch (flaw) {
    case PinFlaw::NotDigits:
        return "a PIN has digits only";
    case PinFlaw::TooShort:
        return "the PIN is too short";
    case PinFlaw::TooLong:
        return "the PIN is too long";
    case PinFlaw::OneDigit:
        return "the PIN is one digit over and over";
    case PinFlaw::Run:
        return "the digits of the PIN follow each other";
    case PinFlaw::OnePair:
        return "the PIN is one pair of digits over and over";
    }
    return "";
}

} // namespace

std::optional<PinFlaw> flaw_of_pin(std::string_view digits) {
    if (std::ranges::any_of(digits, [](char c) { return c < '0' || c > '9'; })) {
        return PinFlaw::NotDigits;
    }
    if (digits.size() < kLeastPinDigits) {
        return PinFlaw::TooShort;
    }
    if (digits.size() > kMostPinDigits) {
        return PinFlaw::TooLong;
    }
    if (steps_by(digits, 0)) {
        return PinFlaw::OneDigit;
    }
    if (steps_by(digits, 1) || steps_by(digits, -1)) {
        return PinFlaw::Run;
    }
    if (digits.substr(2) == digits.substr(0, digits.size() - 2)) {
        return PinFlaw::OnePair;
    }
    return {};
}

model::Problem problem_of(PinFlaw flaw) {
    return {"the new PIN", what_of(flaw),
            "choose " + std::to_string(kLeastPinDigits) + " to " + std::to_string(kMostPinDigits) +
                " digits that nobody guesses"};
}

double pin_wait_after(std::int64_t wrong) {
    if (wrong < kFreePinTries) {
        return 0.0;
    }
    // Far beyond the longest wait a power of two would leave the range of a double.
    const auto doublings = static_cast<int>(std::min<std::int64_t>(wrong - kFreePinTries, 30));
    return std::min(std::ldexp(kFirstPinWait_s, doublings), kLongestPinWait_s);
}

double pin_wait_left(double wait_s, double since_boot_then_s, double since_boot_now_s) {
    const double passed_s =
        since_boot_now_s >= since_boot_then_s ? since_boot_now_s - since_boot_then_s : since_boot_now_s;
    return std::max(0.0, wait_s - passed_s);
}

} // namespace crossarm::store
