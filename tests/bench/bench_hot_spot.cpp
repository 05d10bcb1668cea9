// How fast the fleet solver is: unit-steps a second beside the plain loop, and how far from the machine's
// limits.
//
// bench_hot_spot [units] [steps]   (100 000 and 8 760 when left out)
// Prints one "name value" line a figure; hot_spot.py reads them.
#include "checklist/rules/thermal_fleet.hpp"

#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <vector>

using namespace crossarm;

namespace {

double seconds(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

rules::FleetSeries year(std::size_t steps) {
    rules::FleetSeries series;
    series.shapes.assign(8, {});
    for (std::size_t t = 0; t < steps; ++t) {
        const double day = 2.0 * std::numbers::pi * static_cast<double>(t % 24) / 24.0;
        const double season = 2.0 * std::numbers::pi * static_cast<double>(t) / 8760.0;
        series.ambient_C.push_back(22.0 - 8.0 * std::cos(season) - 5.0 * std::cos(day));
        for (std::size_t s = 0; s < series.shapes.size(); ++s) {
            series.shapes[s].push_back(0.6 - 0.3 * std::cos(day - 0.1 * static_cast<double>(s)) +
                                       0.1 * std::cos(season));
        }
    }
    return series;
}

std::vector<rules::FleetUnit> fleet(std::size_t count) {
    // The distribution set of IEC 60076-7, and peaks from light to overloaded.
    const rules::ThermalFacts facts{55.0, 23.0, 5.0, 0.8, 1.6, 1.0, 1.0, 2.0, 180.0, 4.0};
    std::vector<rules::FleetUnit> units(count);
    for (std::size_t i = 0; i < count; ++i) {
        units[i].facts = facts;
        units[i].facts.loss_ratio = 4.0 + 0.001 * static_cast<double>(i % 3000);
        units[i].peak_share = 0.3 + 0.001 * static_cast<double>(i % 1000);
        units[i].shape = i % 8;
        units[i].paper = i % 3 == 0 ? rules::Paper::Upgraded : rules::Paper::Normal;
        units[i].ambient_offset_K = 0.01 * static_cast<double>(i % 500);
    }
    return units;
}

/// GB/s copied by one core between two arrays far larger than any cache.
double copy_GBps() {
    std::vector<double> from(std::size_t{1} << 25U, 1.0);
    std::vector<double> to(from.size());
    double best = 0.0;
    for (int i = 0; i < 3; ++i) {
        const double s = seconds([&] { std::copy(from.begin(), from.end(), to.begin()); });
        best = std::max(best, 2.0 * static_cast<double>(from.size()) * sizeof(double) / s / 1e9);
        from[static_cast<std::size_t>(i)] = to.back() + 1.0;
    }
    return best;
}

/// Multiplications and additions a second that one core does on independent numbers in registers.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__)
__attribute__((target_clones("avx2", "default")))
#endif
double
arithmetic_Gps() {
    std::array<double, 32> x{};
    constexpr int kRounds = 20'000'000;
    const auto start = std::chrono::steady_clock::now();
    for (int round = 0; round < kRounds; ++round) {
        for (double& value : x) {
            value = value * 0.999 + 0.5;
        }
    }
    const double s = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    double sum = 0.0;
    for (const double value : x) {
        sum += value;
    }
    return sum > 0.0 ? 2.0 * 32.0 * kRounds / s / 1e9 : 0.0;
}

void line(const char* name, double value) {
    std::printf("%s %.6g\n", name, value);
}

} // namespace

int main(int argc, char** argv) {
    const auto count = static_cast<std::size_t>(argc > 1 ? std::atoll(argv[1]) : 100'000);
    const auto steps = static_cast<std::size_t>(argc > 2 ? std::atoll(argv[2]) : 8'760);
    if (count < 1'000 || steps < 24) {
        std::fputs("bench_hot_spot: give at least 1000 units and 24 steps\n", stderr);
        return 2;
    }
    const auto series = year(steps);
    const auto units = fleet(count);
    const double unit_steps = static_cast<double>(count) * static_cast<double>(steps);
    // Two in a hundred of the units are enough to time the plain loop.
    const std::vector<rules::FleetUnit> some(units.begin(), units.begin() + static_cast<long>(count / 50));
    const double some_steps = static_cast<double>(some.size()) * static_cast<double>(steps);

    std::vector<rules::FleetResult> plain, vector_one;
    const double plain_s = seconds([&] { plain = *rules::run_fleet_plainly(some, series); });
    const double one_s = seconds([&] { vector_one = *rules::run_fleet(units, series, 1); });
    const double two_s = seconds([&] { vector_one = *rules::run_fleet(units, series, 2); });
    double worst = 0.0;
    for (std::size_t i = 0; i < plain.size(); ++i) {
        worst = std::max(worst, std::abs(plain[i].aged_min / vector_one[i].aged_min - 1.0));
    }
    line("units", static_cast<double>(count));
    line("steps", static_cast<double>(steps));
    line("plain_steps_per_s", some_steps / plain_s);
    line("one_core_steps_per_s", unit_steps / one_s);
    line("two_cores_steps_per_s", unit_steps / two_s);
    line("one_core_s", one_s);
    line("two_cores_s", two_s);
    line("largest_relative_difference", worst);
    // Near cache: what the inner loop touches. Far memory: a unit is read once and its result written once.
    const auto near_bytes = static_cast<double>(rules::fleet_bytes_per_step());
    const double far_bytes = static_cast<double>(sizeof(rules::FleetUnit) + sizeof(rules::FleetResult)) /
                             static_cast<double>(steps);
    line("near_bytes_per_step", near_bytes);
    line("far_bytes_per_step", far_bytes);
    line("near_GBps_one_core", near_bytes * unit_steps / one_s / 1e9);
    line("far_GBps_one_core", far_bytes * unit_steps / one_s / 1e9);
    line("machine_copy_GBps_one_core", copy_GBps());
    // Counted in the source: 2 logarithms of 25, 3 powers of 27, 33 others; 3 of them divisions.
    constexpr double kOperations = 2 * 25 + 3 * 27 + 33;
    line("operations_per_step", kOperations);
    line("operations_Gps_one_core", kOperations * unit_steps / one_s / 1e9);
    line("machine_operations_Gps_one_core", arithmetic_Gps());
    return 0;
}
