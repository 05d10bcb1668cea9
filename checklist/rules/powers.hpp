// Logarithm and power to base 2 without branches or calls, so that the compiler can vectorise loops over
// them.
#pragma once

#include <bit>
#include <cstdint>

namespace crossarm::rules {

/// Added to a share before its logarithm: far below the last bit of any real share.
inline constexpr double kNextToNothing = 1e-30;

/// log2 of a normal number above 0. Error below 1e-12 absolute (checked against std::log2 in the tests).
/// Splits x into 2^e m with m within [√½, √2), and sums the series of atanh((m - 1) / (m + 1)).
inline double log_2(double x) {
    constexpr double kTwoOverLn2 = 2.8853900817779268; // 2 / ln 2
    // Moves the cut between exponents from 1 to √½, in the bits of the number.
    constexpr std::uint64_t kHalfRootBits = 0x3FE6A09E667F3BCDU;
    constexpr std::uint64_t kFraction = 0x000FFFFFFFFFFFFFU;
    const std::uint64_t moved = std::bit_cast<std::uint64_t>(x) - kHalfRootBits;
    // The exponent as a double without an integer-to-double instruction, which SSE2 and AVX2 lack for 64
    // bits: it is put into the low bits of 2^52 + 2^51, biased by 2048 to stay above 0.
    constexpr double kMagic = 6755399441055744.0; // 2^52 + 2^51
    const std::uint64_t biased = (moved + (std::uint64_t{2048} << 52U)) >> 52U;
    // The top bit may be lost above; 12 bits are kept, and 2048 is taken off again modulo 4096.
    const double exponent =
        std::bit_cast<double>(std::bit_cast<std::uint64_t>(kMagic) + biased) - kMagic - 2048.0;
    const double m = std::bit_cast<double>((moved & kFraction) + kHalfRootBits);
    const double s = (m - 1.0) / (m + 1.0);
    const double z = s * s;
    // |s| <= 0.1716: the first term left out, z^9 / 19, is below 1e-15.
    double sum = 1.0 / 17.0;
    sum = sum * z + 1.0 / 15.0;
    sum = sum * z + 1.0 / 13.0;
    sum = sum * z + 1.0 / 11.0;
    sum = sum * z + 1.0 / 9.0;
    sum = sum * z + 1.0 / 7.0;
    sum = sum * z + 1.0 / 5.0;
    sum = sum * z + 1.0 / 3.0;
    sum = sum * z + 1.0;
    return exponent + kTwoOverLn2 * s * sum;
}

/// 2^x for x within -1000 to 1000. Relative error below 1e-13.
inline double power_of_2(double x) {
    constexpr double kMagic = 6755399441055744.0; // 2^52 + 2^51: adding it rounds to a whole number
    constexpr double kLn2 = 0.69314718055994531;
    const double shifted = x + kMagic;
    const double whole = shifted - kMagic;
    const double r = (x - whole) * kLn2; // within ±0.3466
    // Taylor series of e^r; the first term left out, r^12 / 12!, is below 1e-14.
    double sum = 1.0 / 39916800.0;
    sum = sum * r + 1.0 / 3628800.0;
    sum = sum * r + 1.0 / 362880.0;
    sum = sum * r + 1.0 / 40320.0;
    sum = sum * r + 1.0 / 5040.0;
    sum = sum * r + 1.0 / 720.0;
    sum = sum * r + 1.0 / 120.0;
    sum = sum * r + 1.0 / 24.0;
    sum = sum * r + 1.0 / 6.0;
    sum = sum * r + 0.5;
    sum = sum * r + 1.0;
    sum = sum * r + 1.0;
    // The whole part stands in the low bits of `shifted`; it is moved into the exponent.
    const std::uint64_t bits =
        std::bit_cast<std::uint64_t>(sum) + (std::bit_cast<std::uint64_t>(shifted) << 52U);
    return std::bit_cast<double>(bits);
}

} // namespace crossarm::rules
