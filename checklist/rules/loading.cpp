#include "checklist/rules/loading.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

namespace crossarm::rules {
namespace {

constexpr double kMostAmpere = 20'000.0;
constexpr double kHoursInYear = 8760.0;

bool all_within(const std::array<double, 3>& values, double low, double high) {
    return std::all_of(values.begin(), values.end(), [&](double x) { return within(x, low, high); });
}

double sum(const std::array<double, 3>& values) {
    return values[0] + values[1] + values[2];
}

bool possible(const LossFacts& f) {
    return within(f.rating_kVA, 1.0, 10'000.0) && within(f.no_load_loss_W, 0.0, 100'000.0) &&
           within(f.load_loss_W, 0.0, 500'000.0);
}

/// Resistive part of the impedance in percent.
double resistance_percent(const LossFacts& f) {
    return f.load_loss_W / (10.0 * f.rating_kVA);
}

} // namespace

std::optional<double> full_load_A(double rating_kVA, double voltage_V) {
    if (!within(rating_kVA, 1.0, 10'000.0) || !within(voltage_V, 100.0, 500'000.0)) {
        return std::nullopt;
    }
    return rating_kVA * 1000.0 / (std::numbers::sqrt3 * voltage_V);
}

std::optional<double> unbalance_percent(const std::array<double, 3>& values) {
    if (!all_within(values, 0.0, 1e7) || sum(values) <= 0.0) {
        return std::nullopt;
    }
    const double mean = sum(values) / 3.0;
    double deviation = 0.0;
    for (const double x : values) {
        deviation = std::max(deviation, std::abs(x - mean));
    }
    return 100.0 * deviation / mean;
}

std::optional<double> unbalance_factor_percent(const std::array<double, 3>& line_V) {
    if (!all_within(line_V, 1.0, 1e6)) {
        return std::nullopt;
    }
    double squares = 0.0;
    double fourths = 0.0;
    for (const double v : line_V) {
        squares += v * v;
        fourths += v * v * v * v;
    }
    const double inside = 3.0 - 6.0 * fourths / (squares * squares);
    if (inside < 0.0) {
        return std::nullopt;
    }
    // Equal voltages: the last bits must not carry the root above 1.
    const double root = std::min(1.0, std::sqrt(inside));
    return 100.0 * std::sqrt((1.0 - root) / (1.0 + root));
}

std::optional<double> neutral_equal_angles_A(const std::array<double, 3>& current_A) {
    return neutral_with_angles_A(current_A, {0.0, 0.0, 0.0});
}

std::optional<double> neutral_with_angles_A(const std::array<double, 3>& current_A,
                                            const std::array<double, 3>& lag_deg) {
    if (!all_within(current_A, 0.0, kMostAmpere) || !all_within(lag_deg, -90.0, 90.0)) {
        return std::nullopt;
    }
    std::complex<double> neutral;
    for (std::size_t i = 0; i < 3; ++i) {
        const double angle_deg = -120.0 * static_cast<double>(i) - lag_deg[i];
        neutral += std::polar(current_A[i], angle_deg * std::numbers::pi / 180.0);
    }
    return std::abs(neutral);
}

std::optional<double> neutral_worst_A(const std::array<double, 3>& current_A) {
    if (!all_within(current_A, 0.0, kMostAmpere)) {
        return std::nullopt;
    }
    return sum(current_A);
}

std::optional<Regulation> regulation(const LossFacts& facts, double share, double power_factor,
                                     bool leading) {
    if (!possible(facts) || !within(facts.impedance_percent, 0.5, 20.0) || !within(share, 0.0, 3.0) ||
        !within(power_factor, 0.0, 1.0)) {
        return std::nullopt;
    }
    const double er = resistance_percent(facts);
    if (er > facts.impedance_percent) {
        return std::nullopt;
    }
    const double ex = std::sqrt(facts.impedance_percent * facts.impedance_percent - er * er);
    const double cos = power_factor;
    const double sin = (leading ? -1.0 : 1.0) * std::sqrt(1.0 - cos * cos);
    Regulation r;
    r.one_term_percent = share * (er * cos + ex * sin);
    const double cross = share * (ex * cos - er * sin);
    r.two_term_percent = r.one_term_percent + cross * cross / 200.0;
    const std::complex<double> drop =
        share / 100.0 * std::complex<double>(er, ex) * std::complex<double>(cos, -sin);
    r.exact_percent = 100.0 * (std::abs(1.0 + drop) - 1.0);
    return r;
}

std::optional<double> losses_W(const LossFacts& facts, double share) {
    if (!possible(facts) || !within(share, 0.0, 3.0)) {
        return std::nullopt;
    }
    return facts.no_load_loss_W + share * share * facts.load_loss_W;
}

std::optional<double> efficiency_percent(const LossFacts& facts, double share, double power_factor) {
    const auto lost_W = losses_W(facts, share);
    if (!lost_W || share <= 0.0 || !within(power_factor, 0.0, 1.0) || power_factor <= 0.0) {
        return std::nullopt;
    }
    const double out_W = share * facts.rating_kVA * 1000.0 * power_factor;
    return 100.0 * out_W / (out_W + *lost_W);
}

std::optional<double> best_share(const LossFacts& facts) {
    if (!possible(facts) || facts.load_loss_W <= 0.0) {
        return std::nullopt;
    }
    return std::sqrt(facts.no_load_loss_W / facts.load_loss_W);
}

std::optional<double> yearly_loss_kWh(const LossFacts& facts, double peak_share, double loss_load_factor) {
    if (!possible(facts) || !within(peak_share, 0.0, 3.0) || !within(loss_load_factor, 0.0, 1.0)) {
        return std::nullopt;
    }
    return kHoursInYear / 1000.0 *
           (facts.no_load_loss_W + facts.load_loss_W * peak_share * peak_share * loss_load_factor);
}

std::optional<double> loss_load_factor(double load_factor, double c) {
    if (!within(load_factor, 0.0, 1.0) || !within(c, 0.0, 1.0)) {
        return std::nullopt;
    }
    return c * load_factor + (1.0 - c) * load_factor * load_factor;
}

} // namespace crossarm::rules
