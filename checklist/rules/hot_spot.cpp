#include "checklist/rules/hot_spot.hpp"

#include "checklist/rules/answer.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace crossarm::rules {
namespace {

using model::Unit;

bool possible(const ThermalState& s) {
    return within(s.top_oil_C, -60.0, 1000.0) && within(s.gradient_1_K, -100.0, 2000.0) &&
           within(s.gradient_2_K, -100.0, 2000.0);
}

bool possible_load(double share, double ambient_C) {
    return within(share, 0.0, 3.0) && within(ambient_C, -50.0, 60.0);
}

double final_oil_rise_K(const ThermalFacts& f, double share) {
    return f.top_oil_rise_K *
           std::pow((1.0 + f.loss_ratio * share * share) / (1.0 + f.loss_ratio), f.oil_exponent);
}

double final_gradient_K(const ThermalFacts& f, double share) {
    return f.gradient_K * std::pow(share, f.winding_exponent);
}

ThermalState steady_state(const ThermalFacts& f, double share, double ambient_C) {
    const double gradient_K = final_gradient_K(f, share);
    return {ambient_C + final_oil_rise_K(f, share), f.k21 * gradient_K, (f.k21 - 1.0) * gradient_K};
}

ThermalState moved(const ThermalFacts& f, const ThermalState& from, const ThermalState& to, double minutes) {
    const auto part_left = [&](double time_min) { return std::exp(-minutes / time_min); };
    const double oil = part_left(f.k11 * f.oil_time_min);
    const double fast = part_left(f.k22 * f.winding_time_min);
    const double slow = part_left(f.oil_time_min / f.k22);
    return {to.top_oil_C + (from.top_oil_C - to.top_oil_C) * oil,
            to.gradient_1_K + (from.gradient_1_K - to.gradient_1_K) * fast,
            to.gradient_2_K + (from.gradient_2_K - to.gradient_2_K) * slow};
}

bool possible(const std::vector<LoadStep>& profile) {
    return !profile.empty() && std::all_of(profile.begin(), profile.end(), [](const LoadStep& s) {
        return possible_load(s.share, s.ambient_C) && within(s.minutes, 1e-6, 1e6);
    });
}

double rate(double hot_spot_C, Paper paper) {
    // IEC 60076-7, relative ageing rate of normal and of thermally upgraded paper.
    return paper == Paper::Normal ? std::exp2((hot_spot_C - 98.0) / 6.0)
                                  : std::exp(15000.0 / (110.0 + 273.0) - 15000.0 / (hot_spot_C + 273.0));
}

} // namespace

std::optional<ThermalFacts> thermal_facts(const model::LimitSet& set) {
    Needs needs(set);
    const ThermalFacts facts{needs.take("top_oil_rise", Unit::Kelvin),
                             needs.take("gradient", Unit::Kelvin),
                             needs.take("loss_ratio", Unit::One),
                             needs.take("oil_exponent", Unit::One),
                             needs.take("winding_exponent", Unit::One),
                             needs.take("k11", Unit::One),
                             needs.take("k21", Unit::One),
                             needs.take("k22", Unit::One),
                             needs.take("oil_time", Unit::Minute),
                             needs.take("winding_time", Unit::Minute)};
    if (!needs.ok() || !possible(facts)) {
        return std::nullopt;
    }
    return facts;
}

bool possible(const ThermalFacts& f) {
    return within(f.top_oil_rise_K, 10.0, 120.0) && within(f.gradient_K, 1.0, 80.0) &&
           within(f.loss_ratio, 0.1, 2000.0) && within(f.oil_exponent, 0.4, 1.2) &&
           within(f.winding_exponent, 0.8, 2.2) && within(f.k11, 0.2, 2.0) && within(f.k21, 1.0, 5.0) &&
           within(f.k22, 0.5, 5.0) && within(f.oil_time_min, 10.0, 1000.0) &&
           within(f.winding_time_min, 0.5, 60.0);
}

std::optional<ThermalState> steady(const ThermalFacts& facts, double share, double ambient_C) {
    if (!possible(facts) || !possible_load(share, ambient_C)) {
        return std::nullopt;
    }
    return steady_state(facts, share, ambient_C);
}

std::optional<ThermalState> after(const ThermalFacts& facts, const ThermalState& start, double share,
                                  double ambient_C, double minutes) {
    if (!possible(facts) || !possible(start) || !possible_load(share, ambient_C) ||
        !within(minutes, 0.0, 1e6)) {
        return std::nullopt;
    }
    return moved(facts, start, steady_state(facts, share, ambient_C), minutes);
}

double longest_difference_step_min(const ThermalFacts& facts) {
    return 0.5 * std::min({facts.k11 * facts.oil_time_min, facts.winding_time_min,
                           facts.k22 * facts.winding_time_min, facts.oil_time_min / facts.k22});
}

std::optional<ThermalState> after_by_differences(const ThermalFacts& facts, const ThermalState& start,
                                                 double share, double ambient_C, double minutes) {
    if (!possible(facts) || !possible(start) || !possible_load(share, ambient_C) ||
        !within(minutes, 0.0, longest_difference_step_min(facts))) {
        return std::nullopt;
    }
    const ThermalState to = steady_state(facts, share, ambient_C);
    return ThermalState{start.top_oil_C +
                            minutes / (facts.k11 * facts.oil_time_min) * (to.top_oil_C - start.top_oil_C),
                        start.gradient_1_K + minutes / (facts.k22 * facts.winding_time_min) *
                                                 (to.gradient_1_K - start.gradient_1_K),
                        start.gradient_2_K + minutes * facts.k22 / facts.oil_time_min *
                                                 (to.gradient_2_K - start.gradient_2_K)};
}

std::optional<double> ageing_rate(double hot_spot_C, Paper paper) {
    if (!within(hot_spot_C, -50.0, 400.0)) {
        return std::nullopt;
    }
    return rate(hot_spot_C, paper);
}

std::optional<ProfileRun> run_profile(const ThermalFacts& facts, const ThermalState& start,
                                      const std::vector<LoadStep>& profile, Paper paper, double grain_min) {
    constexpr double kMostGrains = 1e7;
    if (!possible(facts) || !possible(start) || !possible(profile) || !within(grain_min, 0.05, 60.0)) {
        return std::nullopt;
    }
    ProfileRun run;
    for (const LoadStep& step : profile) {
        run.minutes += step.minutes;
    }
    if (run.minutes / grain_min > kMostGrains) {
        return std::nullopt;
    }
    run.at_end.reserve(profile.size());
    run.highest_hot_spot_C = start.hot_spot_C();
    run.highest_top_oil_C = start.top_oil_C;
    ThermalState at_start = start;
    for (const LoadStep& step : profile) {
        const ThermalState to = steady_state(facts, step.share, step.ambient_C);
        const auto grains = static_cast<std::size_t>(std::max(1.0, std::ceil(step.minutes / grain_min)));
        const double grain = step.minutes / static_cast<double>(grains);
        double rate_before = rate(at_start.hot_spot_C(), paper);
        ThermalState now = at_start;
        for (std::size_t i = 1; i <= grains; ++i) {
            now = moved(facts, at_start, to, grain * static_cast<double>(i));
            const double rate_now = rate(now.hot_spot_C(), paper);
            run.aged_min += 0.5 * (rate_before + rate_now) * grain;
            rate_before = rate_now;
            run.highest_hot_spot_C = std::max(run.highest_hot_spot_C, now.hot_spot_C());
            run.highest_top_oil_C = std::max(run.highest_top_oil_C, now.top_oil_C);
        }
        run.highest_share = std::max(run.highest_share, step.share);
        run.at_end.push_back(now);
        at_start = now;
    }
    return run;
}

std::optional<ThermalState> periodic_start(const ThermalFacts& facts, const std::vector<LoadStep>& profile) {
    if (!possible(facts) || !possible(profile)) {
        return std::nullopt;
    }
    // One pass is the same affine map each time, and each part only looks at itself: the start that comes
    // back to itself follows from one pass from zero and what one pass leaves of a start.
    ThermalState from_zero;
    double minutes = 0.0;
    for (const LoadStep& step : profile) {
        from_zero = moved(facts, from_zero, steady_state(facts, step.share, step.ambient_C), step.minutes);
        minutes += step.minutes;
    }
    const ThermalState left = moved(facts, {1.0, 1.0, 1.0}, {0.0, 0.0, 0.0}, minutes);
    return ThermalState{from_zero.top_oil_C / (1.0 - left.top_oil_C),
                        from_zero.gradient_1_K / (1.0 - left.gradient_1_K),
                        from_zero.gradient_2_K / (1.0 - left.gradient_2_K)};
}

std::optional<double> permitted_share(const ThermalFacts& facts, const ThermalState& start, double ambient_C,
                                      double minutes, double hot_spot_ceiling_C, double top_oil_ceiling_C,
                                      double most_share) {
    if (!possible(facts) || !possible(start) || !possible_load(most_share, ambient_C) ||
        !within(minutes, 1.0, 10'080.0) || !within(hot_spot_ceiling_C, 40.0, 200.0) ||
        !within(top_oil_ceiling_C, 40.0, 200.0)) {
        return std::nullopt;
    }
    // With k21 above 1 the hot-spot may overshoot before the end, so the whole time is looked at.
    const auto fits = [&](double share) {
        const ThermalState to = steady_state(facts, share, ambient_C);
        const int looks = facts.k21 > 1.0 ? 200 : 1;
        for (int i = 1; i <= looks; ++i) {
            const ThermalState now = moved(facts, start, to, minutes * i / looks);
            if (now.hot_spot_C() > hot_spot_ceiling_C || now.top_oil_C > top_oil_ceiling_C) {
                return false;
            }
        }
        return true;
    };
    if (fits(most_share)) {
        return most_share;
    }
    double low = 0.0;
    double high = most_share;
    if (!fits(low)) {
        return 0.0;
    }
    for (int i = 0; i < 50; ++i) {
        const double middle = 0.5 * (low + high);
        (fits(middle) ? low : high) = middle;
    }
    return low;
}

} // namespace crossarm::rules
