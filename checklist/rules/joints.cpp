#include "checklist/rules/joints.hpp"

#include "checklist/rules/answer.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace crossarm::rules {
namespace {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;
using model::When;

// A joint cannot be cooler than the air around it; what is left is the thermometers' own error.
constexpr double kCoolerThanAirK = 5.0;
constexpr double kHottest_C = 400.0;

/// The set's bands.
struct Bands {
    double similar_possible_K, similar_probable_K, similar_major_K;
    double ambient_possible_K, ambient_probable_K, ambient_monitor_K, ambient_major_K;
    double exponent, exponent_low, exponent_high, minimum_share_percent;
};

/// A grade, how soon, and the limit that decided.
struct Band {
    Grade grade = Grade::Sound;
    std::optional<When> when;
    std::string limit;
};

Bands take(Needs& needs) {
    // A set that has no bands for the twin never finds one too warm.
    constexpr double kNever = 1e9;
    const bool twin = needs.has("similar.major_above", Unit::Kelvin);
    return {twin ? needs.take("similar.possible_from", Unit::Kelvin) : kNever,
            twin ? needs.take("similar.probable_above", Unit::Kelvin) : kNever,
            twin ? needs.take("similar.major_above", Unit::Kelvin) : kNever,
            needs.take("ambient.possible_from", Unit::Kelvin),
            needs.take("ambient.probable_above", Unit::Kelvin),
            needs.take("ambient.monitor_above", Unit::Kelvin),
            needs.take("ambient.major_above", Unit::Kelvin),
            needs.take("load.exponent", Unit::One),
            needs.take("load.exponent_low", Unit::One),
            needs.take("load.exponent_high", Unit::One),
            needs.take("load.minimum_share", Unit::Percent)};
}

Band over_ambient(double rise_K, const Bands& b) {
    if (rise_K > b.ambient_major_K) {
        return {Grade::Danger, When::BeforeSupplyReturns, "ambient.major_above"};
    }
    if (rise_K > b.ambient_monitor_K) {
        return {Grade::Repair, When::Within7Days, "ambient.monitor_above"};
    }
    if (rise_K > b.ambient_probable_K) {
        return {Grade::Repair, When::Within30Days, "ambient.probable_above"};
    }
    if (rise_K >= b.ambient_possible_K) {
        return {Grade::Watch, When::AtNextVisit, "ambient.possible_from"};
    }
    return {Grade::Sound, std::nullopt, "ambient.possible_from"};
}

Band over_twin(double difference_K, const Bands& b) {
    if (difference_K > b.similar_major_K) {
        return {Grade::Danger, When::BeforeSupplyReturns, "similar.major_above"};
    }
    if (difference_K > b.similar_probable_K) {
        return {Grade::Repair, When::Within30Days, "similar.probable_above"};
    }
    if (difference_K >= b.similar_possible_K) {
        return {Grade::Watch, When::AtNextVisit, "similar.possible_from"};
    }
    return {Grade::Sound, std::nullopt, "similar.possible_from"};
}

/// Worse grade first, then sooner.
Band worse_of(Band a, Band b) {
    if (a.grade != b.grade) {
        return a.grade > b.grade ? a : b;
    }
    return b.when && (!a.when || *b.when < *a.when) ? b : a;
}

Band judge(double rise_K, std::optional<double> difference_K, const Bands& b) {
    const Band ambient = over_ambient(rise_K, b);
    return difference_K ? worse_of(ambient, over_twin(*difference_K, b)) : ambient;
}

std::optional<model::Phrase> impossible(const JointReadings& r) {
    if (!within(r.joint_C, -40.0, kHottest_C) || (r.twin_C && !within(*r.twin_C, -40.0, kHottest_C)) ||
        !within(r.ambient_C, -40.0, 60.0)) {
        return say("no.joints.temperature");
    }
    if (!within(r.current_A, 0.0, 10'000.0) || !within(r.rated_A, 0.0, 10'000.0) || r.rated_A <= 0.0) {
        return say("no.joints.current");
    }
    if (r.joint_C < r.ambient_C - kCoolerThanAirK ||
        (r.twin_C && *r.twin_C < r.ambient_C - kCoolerThanAirK)) {
        return say("no.joints.cooler_than_air");
    }
    return std::nullopt;
}

std::string correction_text(double rise_K, double rated_A, double current_A, double exponent) {
    return model::number_for_people(rise_K) + " × (" + model::number_for_people(rated_A) + " / " +
           model::number_for_people(current_A) + ")^" + model::number_for_people(exponent);
}

Verdict rise_verdict(const JointReadings& r, const Bands& b, const model::LimitSet& set, bool corrected) {
    const double factor =
        corrected && r.current_A < r.rated_A ? std::pow(r.rated_A / r.current_A, b.exponent) : 1.0;
    const double measured_K = std::max(0.0, r.joint_C - r.ambient_C);
    const double rise_K = measured_K * factor;
    std::optional<double> difference_K;
    if (r.twin_C) {
        difference_K = std::max(0.0, r.joint_C - *r.twin_C) * factor;
    }
    const Band band = judge(rise_K, difference_K, b);

    Verdict v;
    v.subject = "joint.rise";
    v.grade = band.grade;
    v.when = band.when;
    v.source = set.source_of(band.limit);
    v.workings = {{"work.joints.rise",
                   {measured_K, Unit::Kelvin},
                   model::number_for_people(r.joint_C) + " - " + model::number_for_people(r.ambient_C)},
                  {"work.joints.load_share", {100.0 * r.current_A / r.rated_A, Unit::Percent}, ""}};
    if (factor > 1.0) {
        v.workings.push_back({"work.joints.rise_at_rated",
                              {rise_K, Unit::Kelvin},
                              correction_text(measured_K, r.rated_A, r.current_A, b.exponent)});
    }
    if (difference_K) {
        v.workings.push_back({"work.joints.over_twin",
                              {*difference_K, Unit::Kelvin},
                              factor > 1.0 ? correction_text(std::max(0.0, r.joint_C - *r.twin_C), r.rated_A,
                                                             r.current_A, b.exponent)
                                           : ""});
    }
    Places places = {{"rise", Quantity{rise_K, Unit::Kelvin}},
                     {"share", Quantity{100.0 * r.current_A / r.rated_A, Unit::Percent}}};
    std::string key = band.limit.starts_with("similar") ? "because.joints.twin_" : "because.joints.ambient_";
    if (difference_K) {
        places.emplace_back("difference", Quantity{*difference_K, Unit::Kelvin});
    }
    switch (band.grade) {
    case Grade::Sound:
        key = "because.joints.cool";
        break;
    case Grade::Watch:
        key += "possible";
        v.action = say("action.joints.compare");
        break;
    case Grade::Repair:
        key += *band.when == When::Within7Days ? "monitor" : "probable";
        v.action = say("action.joints.remake");
        break;
    case Grade::Danger:
        key += "major";
        v.action = say("action.joints.remake_now");
        break;
    }
    v.because = say(key, places);
    if (!corrected) {
        v.cautions.push_back(say("caution.joints.low_load"));
    }
    if (r.current_A > r.rated_A) {
        v.cautions.push_back(say("caution.joints.overload"));
    }
    if (band.grade >= Grade::Repair) {
        v.cautions.push_back(say("caution.joints.retorque"));
    }
    v.cautions.push_back(say("caution.joints.shiny"));
    return v;
}

} // namespace

std::optional<double> rise_at_rated_K(double rise_K, double current_A, double rated_A, double exponent) {
    if (!within(rise_K, 0.0, 1000.0) || !within(current_A, 1e-3, 1e6) || !within(rated_A, 1e-3, 1e6) ||
        !within(exponent, 1.0, 2.0)) {
        return std::nullopt;
    }
    return rise_K * std::pow(rated_A / current_A, exponent);
}

Outcome rise(const JointReadings& readings, const model::LimitSet& bands) {
    constexpr std::string_view kSubject = "joint.rise";
    if (auto why = impossible(readings)) {
        return refuse(kSubject, *why);
    }
    Needs needs(bands);
    const Bands b = take(needs);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    if (!within(b.exponent, b.exponent_low, b.exponent_high)) {
        return refuse(kSubject, say("no.joints.exponent", {{"exponent", Quantity{b.exponent, Unit::One}}}));
    }
    const double share_percent = 100.0 * readings.current_A / readings.rated_A;
    if (share_percent >= b.minimum_share_percent) {
        return rise_verdict(readings, b, bands, true);
    }
    Verdict as_measured = rise_verdict(readings, b, bands, false);
    if (as_measured.grade >= Grade::Repair) {
        return as_measured;
    }
    return refuse(kSubject,
                  say("no.joints.low_load", {{"share", Quantity{share_percent, Unit::Percent}},
                                             {"minimum", Quantity{b.minimum_share_percent, Unit::Percent}}}));
}

std::array<Outcome, 3> rise_by_phase(const PhaseJoints& joints, const model::LimitSet& bands) {
    const double exponent = bands.value("load.exponent", Unit::One).value_or(0.0);
    std::array<Outcome, 3> answers;
    for (std::size_t i = 0; i < 3; ++i) {
        JointReadings one{joints.joint_C[i], std::nullopt, joints.ambient_C, joints.current_A[i],
                          joints.rated_A};
        for (std::size_t k = 0; k < 3; ++k) {
            // The other phase's rise as it would be at this phase's current.
            const double other_K = std::max(0.0, joints.joint_C[k] - joints.ambient_C);
            if (k == i || joints.current_A[k] <= 0.0 || joints.current_A[i] <= 0.0) {
                continue;
            }
            const double at_this_C =
                joints.ambient_C + other_K * std::pow(joints.current_A[i] / joints.current_A[k], exponent);
            // A lightly loaded phase cannot serve as twin: its small rise, scaled up, is mostly error.
            const double minimum = bands.value("load.minimum_share", Unit::Percent).value_or(0.0);
            if (100.0 * joints.current_A[k] / joints.rated_A < minimum) {
                continue;
            }
            one.twin_C = std::min(one.twin_C.value_or(kHottest_C), at_this_C);
        }
        // A phase that cannot be read must not pass silently as "no twin".
        for (std::size_t k = 0; k < 3; ++k) {
            if (!std::isfinite(joints.joint_C[k]) || !std::isfinite(joints.current_A[k])) {
                one.joint_C = std::numeric_limits<double>::quiet_NaN();
            }
        }
        answers[i] = rise(one, bands);
    }
    return answers;
}

double joint_heat_W(double current_A, double resistance_uOhm) {
    return current_A * current_A * resistance_uOhm * 1e-6;
}

Outcome resistance_between_phases(const JointResistances& readings, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "joint.resistance";
    for (const double r : readings.resistance_uOhm) {
        if (!within(r, 1e-3, 1e6)) {
            return refuse(kSubject, say("no.joints.resistance"));
        }
    }
    Needs needs(limits);
    const double allowed_percent = needs.take("difference.investigate_above", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const auto [low, high] =
        std::minmax_element(readings.resistance_uOhm.begin(), readings.resistance_uOhm.end());
    const double difference_percent = 100.0 * (*high - *low) / *low;
    Verdict v;
    v.subject = kSubject;
    v.source = limits.source_of("difference.investigate_above");
    v.workings = {{"work.joints.lowest", {*low, Unit::MicroOhm}, ""},
                  {"work.joints.highest", {*high, Unit::MicroOhm}, ""},
                  {"work.joints.difference",
                   {difference_percent, Unit::Percent},
                   "100 × (" + model::number_for_people(*high) + " - " + model::number_for_people(*low) +
                       ") / " + model::number_for_people(*low)}};
    const Places places = {{"difference", Quantity{difference_percent, Unit::Percent}},
                           {"allowed", Quantity{allowed_percent, Unit::Percent}}};
    if (difference_percent > allowed_percent) {
        grade_as(v, Grade::Repair, When::Within30Days, say("because.joints.resistance_differs", places),
                 say("action.joints.remake"));
        v.cautions = {say("caution.joints.retorque")};
    } else {
        v.because = say("because.joints.resistance_alike", places);
    }
    return v;
}

} // namespace crossarm::rules
