#include "checklist/rules/thermal_fleet.hpp"

#include "checklist/rules/powers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <thread>

// The compiler makes versions for plain x86-64, AVX2 and AVX-512 and picks one at start. Sums and products
// stay apart in all of them (no fused multiply-add), so all give the same bits.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__)
#define CROSSARM_VECTOR_CLONES __attribute__((target_clones("avx512f", "avx2", "default")))
#else
#define CROSSARM_VECTOR_CLONES
#endif

namespace crossarm::rules {
namespace {

// A block and all its arrays (21 of 8 bytes a unit) stay in a first-level cache of 32 KiB or more, and the
// inner loop runs over units, which do not depend on each other.
constexpr std::size_t kBlock = 128;

using Lane = std::array<double, kBlock>;

/// Structure of arrays for one block of units.
struct Block {
    // What a step reads.
    Lane peak_share, offset_K, oil_base, oil_slope, oil_exponent, oil_scale_K, winding_exponent, gradient_K;
    Lane k21, oil_left, fast_left, slow_left, normal_slope, normal_shift, upgraded;
    // What a step changes.
    Lane top_oil_C, gradient_1_K, gradient_2_K, highest_C, rate_sum;
    // The load of the step, gathered by shape.
    Lane shape_now;
};

/// One step of every unit of a block.
CROSSARM_VECTOR_CLONES void step(Block& b, double ambient_C) {
    for (std::size_t i = 0; i < kBlock; ++i) {
        const double share = b.shape_now[i] * b.peak_share[i];
        const double ratio = b.oil_base[i] + b.oil_slope[i] * share * share;
        const double oil_C =
            ambient_C + b.offset_K[i] + b.oil_scale_K[i] * power_of_2(b.oil_exponent[i] * log_2(ratio));
        // A share of nothing has no logarithm; 1e-30 to any exponent here is nothing to the last bit.
        const double gradient_K =
            b.gradient_K[i] * power_of_2(b.winding_exponent[i] * log_2(share + kNextToNothing));
        const double fast_K = b.k21[i] * gradient_K;
        const double slow_K = fast_K - gradient_K;
        const double top = oil_C + (b.top_oil_C[i] - oil_C) * b.oil_left[i];
        const double fast = fast_K + (b.gradient_1_K[i] - fast_K) * b.fast_left[i];
        const double slow = slow_K + (b.gradient_2_K[i] - slow_K) * b.slow_left[i];
        const double hot = top + fast - slow;
        // Normal paper: 2^((θ - 98) / 6). Upgraded: the exponential of -15000 / (θ + 273), both to base 2.
        const double arrhenius = b.upgraded[i] / (hot + 273.0);
        b.rate_sum[i] += power_of_2(b.normal_slope[i] * hot + b.normal_shift[i] - arrhenius);
        b.top_oil_C[i] = top;
        b.gradient_1_K[i] = fast;
        b.gradient_2_K[i] = slow;
        b.highest_C[i] = hot > b.highest_C[i] ? hot : b.highest_C[i];
    }
}

void fill(Block& b, std::size_t i, const FleetUnit& unit, const FleetSeries& series) {
    const ThermalFacts& f = unit.facts;
    b.peak_share[i] = unit.peak_share;
    b.offset_K[i] = unit.ambient_offset_K;
    b.oil_base[i] = 1.0 / (1.0 + f.loss_ratio);
    b.oil_slope[i] = f.loss_ratio / (1.0 + f.loss_ratio);
    b.oil_exponent[i] = f.oil_exponent;
    b.oil_scale_K[i] = f.top_oil_rise_K;
    b.winding_exponent[i] = f.winding_exponent;
    b.gradient_K[i] = f.gradient_K;
    b.k21[i] = f.k21;
    b.oil_left[i] = std::exp(-series.step_min / (f.k11 * f.oil_time_min));
    b.fast_left[i] = std::exp(-series.step_min / (f.k22 * f.winding_time_min));
    b.slow_left[i] = std::exp(-series.step_min * f.k22 / f.oil_time_min);
    const bool normal = unit.paper == Paper::Normal;
    b.normal_slope[i] = normal ? 1.0 / 6.0 : 0.0;
    b.normal_shift[i] = normal ? -98.0 / 6.0 : 15000.0 / 383.0 * std::numbers::log2e;
    b.upgraded[i] = normal ? 0.0 : 15000.0 * std::numbers::log2e;
    const ThermalState start = *steady(f, series.shapes[unit.shape].front() * unit.peak_share,
                                       series.ambient_C.front() + unit.ambient_offset_K);
    b.top_oil_C[i] = start.top_oil_C;
    b.gradient_1_K[i] = start.gradient_1_K;
    b.gradient_2_K[i] = start.gradient_2_K;
    b.highest_C[i] = start.hot_spot_C();
    b.rate_sum[i] = 0.0;
}

void run_block(std::span<const FleetUnit> units, const FleetSeries& series, std::span<FleetResult> results) {
    Block b;
    std::array<const double*, kBlock> shape{};
    for (std::size_t i = 0; i < kBlock; ++i) {
        // The lanes of a last, short block repeat its last unit.
        const FleetUnit& unit = units[std::min(i, units.size() - 1)];
        fill(b, i, unit, series);
        shape[i] = series.shapes[unit.shape].data();
    }
    for (std::size_t t = 0; t < series.ambient_C.size(); ++t) {
        for (std::size_t i = 0; i < kBlock; ++i) {
            b.shape_now[i] = shape[i][t];
        }
        step(b, series.ambient_C[t]);
    }
    for (std::size_t i = 0; i < units.size(); ++i) {
        results[i] = {{b.top_oil_C[i], b.gradient_1_K[i], b.gradient_2_K[i]},
                      b.highest_C[i],
                      b.rate_sum[i] * series.step_min};
    }
}

model::Problem problem(std::string where, std::string what, std::string remedy) {
    return {std::move(where), std::move(what), std::move(remedy)};
}

model::Done check(std::span<const FleetUnit> units, const FleetSeries& series) {
    if (!within(series.step_min, 0.05, 1440.0)) {
        return problem("fleet series", "the step is not a possible time", "give 0.05 to 1440 minutes");
    }
    if (series.ambient_C.empty() || series.shapes.empty()) {
        return problem("fleet series", "there is no load or no ambient", "give at least one step");
    }
    const auto [coldest, hottest] = std::minmax_element(series.ambient_C.begin(), series.ambient_C.end());
    for (const double ambient_C : series.ambient_C) {
        if (!within(ambient_C, -50.0, 60.0)) {
            return problem("fleet series", "an ambient is not a possible temperature", "give -50 to 60 °C");
        }
    }
    std::vector<double> highest;
    for (const auto& shape : series.shapes) {
        if (shape.size() != series.ambient_C.size()) {
            return problem("fleet series", "a load shape and the ambient differ in length",
                           "give one value a step");
        }
        for (const double share : shape) {
            if (!within(share, 0.0, 3.0)) {
                return problem("fleet series", "a load is not a possible share", "give 0 to 3");
            }
        }
        highest.push_back(*std::max_element(shape.begin(), shape.end()));
    }
    for (std::size_t i = 0; i < units.size(); ++i) {
        const FleetUnit& u = units[i];
        if (!possible(u.facts) || u.shape >= series.shapes.size() || !within(u.peak_share, 0.0, 3.0) ||
            u.peak_share * highest[u.shape] > 3.0 || !within(u.ambient_offset_K, -30.0, 30.0) ||
            *coldest + u.ambient_offset_K < -50.0 || *hottest + u.ambient_offset_K > 60.0) {
            return problem("fleet unit " + std::to_string(i + 1),
                           "its thermal data or its load are impossible",
                           "correct its plate data, peak share or load shape");
        }
        // The hottest that any moment of the run can be.
        const ThermalState most =
            *steady(u.facts, u.peak_share * highest[u.shape], *hottest + u.ambient_offset_K);
        if (most.top_oil_C + most.gradient_1_K > 400.0) {
            return problem("fleet unit " + std::to_string(i + 1), "its load would bring it above 400 °C",
                           "correct its rating, peak share or load shape");
        }
    }
    return {};
}

} // namespace

std::size_t fleet_bytes_per_step() {
    constexpr std::size_t kRead = 16;   // what a step reads, the load with it
    constexpr std::size_t kChanged = 5; // read and written
    return (kRead + 2 * kChanged) * sizeof(double);
}

model::Result<std::vector<FleetResult>> run_fleet(std::span<const FleetUnit> units, const FleetSeries& series,
                                                  unsigned threads) {
    if (auto done = check(units, series); !done.ok()) {
        return done.problem();
    }
    if (threads < 1 || threads > 64) {
        return problem("fleet run", "the number of threads is not possible", "give 1 to 64");
    }
    std::vector<FleetResult> results(units.size());
    const std::size_t blocks = (units.size() + kBlock - 1) / kBlock;
    const auto work = [&](std::size_t first, std::size_t last) {
        for (std::size_t block = first; block < last; ++block) {
            const std::size_t from = block * kBlock;
            const std::size_t count = std::min(kBlock, units.size() - from);
            run_block(units.subspan(from, count), series, std::span(results).subspan(from, count));
        }
    };
    std::vector<std::thread> helpers;
    for (unsigned t = 1; t < threads; ++t) {
        helpers.emplace_back(work, blocks * t / threads, blocks * (t + 1) / threads);
    }
    work(0, blocks / threads);
    for (std::thread& helper : helpers) {
        helper.join();
    }
    return results;
}

model::Result<std::vector<FleetResult>> run_fleet_plainly(std::span<const FleetUnit> units,
                                                          const FleetSeries& series) {
    if (auto done = check(units, series); !done.ok()) {
        return done.problem();
    }
    std::vector<FleetResult> results;
    results.reserve(units.size());
    for (const FleetUnit& unit : units) {
        const std::vector<double>& shape = series.shapes[unit.shape];
        ThermalState now = *steady(unit.facts, shape.front() * unit.peak_share,
                                   series.ambient_C.front() + unit.ambient_offset_K);
        FleetResult result{now, now.hot_spot_C(), 0.0};
        for (std::size_t t = 0; t < shape.size(); ++t) {
            now = *after(unit.facts, now, shape[t] * unit.peak_share,
                         series.ambient_C[t] + unit.ambient_offset_K, series.step_min);
            result.highest_hot_spot_C = std::max(result.highest_hot_spot_C, now.hot_spot_C());
            result.aged_min += ageing_rate(now.hot_spot_C(), unit.paper).value_or(0.0) * series.step_min;
        }
        result.end = now;
        results.push_back(result);
    }
    return results;
}

} // namespace crossarm::rules
