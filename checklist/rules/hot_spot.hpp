// Top-oil and hot-spot temperature, ageing of the paper, and how much load a transformer may carry.
//
// The model of IEC 60076-7 (exponential form, and the difference form for a check), with the two components
// of the hot-spot gradient carried on, so that it holds for rising and falling load alike.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace crossarm::rules {

/// How a transformer warms up.
struct ThermalFacts {
    double top_oil_rise_K = 0.0; ///< at rated load, 10 to 120
    /// Hot-spot over top-oil at rated load, hot-spot factor included: the 23 K of the distribution set is
    /// this whole gradient and is not multiplied by the factor again. 1 to 80
    double gradient_K = 0.0;
    double loss_ratio = 0.0;       ///< load loss over no-load loss, 0.1 to 2000
    double oil_exponent = 0.0;     ///< x, 0.4 to 1.2
    double winding_exponent = 0.0; ///< y, 0.8 to 2.2
    double k11 = 0.0;              ///< 0.2 to 2
    double k21 = 0.0;              ///< 1 to 5
    double k22 = 0.0;              ///< 0.5 to 5
    double oil_time_min = 0.0;     ///< τo, 10 to 1000
    double winding_time_min = 0.0; ///< τw, 0.5 to 60
    bool operator==(const ThermalFacts&) const = default;
};

/// Takes them from a set of subject "loading.thermal"; nothing when one is missing or out of range.
[[nodiscard]] std::optional<ThermalFacts> thermal_facts(const model::LimitSet& set);
/// Every field finite and in its range.
[[nodiscard]] bool possible(const ThermalFacts& facts);

/// Where a transformer stands thermally.
struct ThermalState {
    double top_oil_C = 0.0;
    double gradient_1_K = 0.0; ///< the fast part of the hot-spot gradient
    double gradient_2_K = 0.0; ///< the slow part, taken off
    [[nodiscard]] double hot_spot_C() const { return top_oil_C + gradient_1_K - gradient_2_K; }
    bool operator==(const ThermalState&) const = default;
};

/// After a very long time at a load share (0 to 3) and an ambient (-50 to 60 °C).
[[nodiscard]] std::optional<ThermalState> steady(const ThermalFacts& facts, double share, double ambient_C);

/// After `minutes` (0 to 1e6) at a constant load share and ambient, exact for a step of any length.
[[nodiscard]] std::optional<ThermalState> after(const ThermalFacts& facts, const ThermalState& start,
                                                double share, double ambient_C, double minutes);

/// The longest step of the difference form: half the smallest time constant (from memory of Annex C).
[[nodiscard]] double longest_difference_step_min(const ThermalFacts& facts);
/// One step of the difference form; nothing when it is longer than that, where it would be wrong or unstable.
[[nodiscard]] std::optional<ThermalState> after_by_differences(const ThermalFacts& facts,
                                                               const ThermalState& start, double share,
                                                               double ambient_C, double minutes);

/// Insulating paper: normal, 98 °C ages at rate 1; or thermally upgraded, 110 °C ages at rate 1.
enum class Paper { Normal, Upgraded };
/// Relative ageing rate: 2^((θ - 98) / 6), or exp(15000/383 - 15000/(θ + 273)). Hot-spot -50 to 400 °C.
[[nodiscard]] std::optional<double> ageing_rate(double hot_spot_C, Paper paper);

/// One stretch of a load profile.
struct LoadStep {
    double minutes = 0.0;   ///< above 0
    double share = 0.0;     ///< of rated current, 0 to 3
    double ambient_C = 0.0; ///< -50 to 60
};

/// What came of a profile.
struct ProfileRun {
    std::vector<ThermalState> at_end; ///< of each stretch
    double highest_hot_spot_C = 0.0;
    double highest_top_oil_C = 0.0;
    double highest_share = 0.0;
    double minutes = 0.0;
    double aged_min = 0.0; ///< life used up, in minutes of life at rate 1
    [[nodiscard]] double mean_ageing_rate() const { return aged_min / minutes; }
};

/// Runs the profile from `start`. Ageing is summed by trapezes of at most `grain_min` (0.05 to 60) minutes;
/// the temperatures themselves are exact whatever the grain. Nothing when a value is impossible, or the
/// profile is empty or would take more than 10 million grains.
[[nodiscard]] std::optional<ProfileRun> run_profile(const ThermalFacts& facts, const ThermalState& start,
                                                    const std::vector<LoadStep>& profile, Paper paper,
                                                    double grain_min = 1.0);
/// The state at the start of a profile that repeats for ever.
[[nodiscard]] std::optional<ThermalState> periodic_start(const ThermalFacts& facts,
                                                         const std::vector<LoadStep>& profile);

/// The largest load share, up to `most_share`, that can be carried for `minutes` from `start` without the
/// hot-spot or the top oil passing its ceiling; 0 when even no load passes it. Nothing for impossible values.
[[nodiscard]] std::optional<double> permitted_share(const ThermalFacts& facts, const ThermalState& start,
                                                    double ambient_C, double minutes,
                                                    double hot_spot_ceiling_C, double top_oil_ceiling_C,
                                                    double most_share);

/// A day's load on one transformer, repeated.
struct DayLoad {
    std::vector<LoadStep> profile;
    Paper paper = Paper::Normal;
};

/// Grades the day's peak against a set of subject "loading.limits": normal cyclic ("normal.hot_spot",
/// "normal.top_oil", "normal.share"), long-time emergency (the same under "emergency."), and the ceiling
/// "ceiling.hot_spot" above which bubbles may form. Within normal: Sound, or Watch when the paper ages faster
/// than at rate 1; beyond normal: Repair within 30 days; beyond emergency: Repair within 7 days; beyond the
/// ceiling: Danger. Subject "loading.hot_spot".
[[nodiscard]] Outcome day_load(const DayLoad& day, const ThermalFacts& facts, const model::LimitSet& limits);

/// The overload asked for.
struct OverloadReadings {
    double share_before = 0.0; ///< steady load before, 0 to 3
    double ambient_C = 0.0;
    double minutes = 0.0;      ///< how long, 1 to 10 080
    double share_wanted = 0.0; ///< above 0 up to 3
};

/// Whether the overload fits the normal cyclic limits (Sound), only the emergency limits (Repair: the lead or
/// the office decides), or neither (Danger), with the share that would fit. Subject "loading.overload".
[[nodiscard]] Outcome overload(const OverloadReadings& readings, const ThermalFacts& facts,
                               const model::LimitSet& limits);

} // namespace crossarm::rules
