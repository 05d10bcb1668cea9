#include "checklist/rules/earthing.hpp"

#include "checklist/rules/answer.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

namespace crossarm::rules {
namespace {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;
using model::When;

constexpr double kTwoPi = 2.0 * std::numbers::pi;

bool possible_rod(double resistivity_ohm_m, double length_m, double diameter_m) {
    return within(resistivity_ohm_m, 0.1, 100'000.0) && within(length_m, 0.3, 50.0) &&
           within(diameter_m, 0.003, 0.5);
}

/// Grades a resistance; the caller adds what it knows about the measurement.
Outcome judge(double resistance_ohm, std::optional<double> last_ohm, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "earth.electrode";
    Needs needs(limits);
    const double target = needs.take("electrode.target", Unit::Ohm);
    const double most = needs.take("electrode.most", Unit::Ohm);
    const double trend_percent = needs.take("trend.watch_above", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    Verdict v;
    v.subject = kSubject;
    v.workings = {{"work.earth.resistance", {resistance_ohm, Unit::Ohm}, ""}};
    const Places places = {{"resistance", Quantity{resistance_ohm, Unit::Ohm}},
                           {"target", Quantity{target, Unit::Ohm}},
                           {"most", Quantity{most, Unit::Ohm}}};
    v.source = limits.source_of("electrode.target");
    v.because = say("because.earth.good", places);
    if (resistance_ohm > most) {
        v.source = limits.source_of("electrode.most");
        grade_as(v, Grade::Repair, When::Within30Days, say("because.earth.above_most", places),
                 say("action.earth.more_rods"));
    } else if (resistance_ohm > target) {
        grade_as(v, Grade::Watch, When::AtNextVisit, say("because.earth.above_target", places),
                 say("action.earth.measure_again"));
    }
    if (last_ohm) {
        const double more_percent = 100.0 * (resistance_ohm / *last_ohm - 1.0);
        v.workings.push_back({"work.earth.trend", {more_percent, Unit::Percent}, ""});
        if (v.grade == Grade::Sound && more_percent > trend_percent) {
            v.source = limits.source_of("trend.watch_above");
            grade_as(v, Grade::Watch, When::AtNextVisit,
                     say("because.earth.rising", {{"resistance", Quantity{resistance_ohm, Unit::Ohm}},
                                                  {"more", Quantity{more_percent, Unit::Percent}}}),
                     say("action.earth.check_joints"));
        }
    }
    v.cautions = {say("caution.earth.never_open"), say("caution.earth.season")};
    return v;
}

} // namespace

std::optional<double> rod_ohm(double resistivity_ohm_m, double length_m, double diameter_m) {
    if (!possible_rod(resistivity_ohm_m, length_m, diameter_m)) {
        return std::nullopt;
    }
    return resistivity_ohm_m / (kTwoPi * length_m) * (std::log(8.0 * length_m / diameter_m) - 1.0);
}

std::optional<double> rod_is3043_ohm(double resistivity_ohm_m, double length_m, double diameter_m) {
    if (!possible_rod(resistivity_ohm_m, length_m, diameter_m)) {
        return std::nullopt;
    }
    return resistivity_ohm_m / (kTwoPi * length_m) * std::log(4.0 * length_m / diameter_m);
}

std::optional<double> two_rods_ohm(double resistivity_ohm_m, double length_m, double diameter_m,
                                   double spacing_m) {
    // Below one rod length the series does not hold.
    if (!possible_rod(resistivity_ohm_m, length_m, diameter_m) || !within(spacing_m, length_m, 500.0)) {
        return std::nullopt;
    }
    const double radius_m = diameter_m / 2.0;
    const double ratio2 = length_m * length_m / (spacing_m * spacing_m);
    const double four_pi = 2.0 * kTwoPi;
    return resistivity_ohm_m / (four_pi * length_m) * (std::log(4.0 * length_m / radius_m) - 1.0) +
           resistivity_ohm_m / (four_pi * spacing_m) * (1.0 - ratio2 / 3.0 + 2.0 * ratio2 * ratio2 / 5.0);
}

std::optional<double> parallel_rods_ohm(double one_rod_ohm, int rods, const model::LimitSet& set) {
    if (!within(one_rod_ohm, 1e-3, 1e6) || rods < 1) {
        return std::nullopt;
    }
    if (rods == 1) {
        return one_rod_ohm;
    }
    const model::LimitTable* table = set.table("parallel");
    const model::LimitRow* row = table != nullptr ? row_of(*table, std::to_string(rods)) : nullptr;
    const auto factor = row != nullptr ? cell(*table, *row, "factor", Unit::One) : std::nullopt;
    if (!factor) {
        return std::nullopt;
    }
    return *factor * one_rod_ohm / static_cast<double>(rods);
}

std::optional<double> wenner_ohm_m(double spacing_m, double resistance_ohm) {
    if (!within(spacing_m, 0.1, 500.0) || !within(resistance_ohm, 1e-4, 1e6)) {
        return std::nullopt;
    }
    return kTwoPi * spacing_m * resistance_ohm;
}

std::optional<double> wenner_ohm_m(double spacing_m, double depth_m, double resistance_ohm) {
    if (!within(spacing_m, 0.1, 500.0) || !within(resistance_ohm, 1e-4, 1e6) ||
        !within(depth_m, 0.0, spacing_m)) {
        return std::nullopt;
    }
    const double a = spacing_m;
    const double b = depth_m;
    const double below = 1.0 + 2.0 * a / std::sqrt(a * a + 4.0 * b * b) - a / std::sqrt(a * a + b * b);
    return 2.0 * kTwoPi * a * resistance_ohm / below;
}

std::optional<double> fall_of_potential_error_ohm(double resistivity_ohm_m, double current_probe_m,
                                                  double share) {
    if (!within(resistivity_ohm_m, 0.1, 100'000.0) || !within(current_probe_m, 1.0, 2000.0) ||
        !within(share, 0.05, 0.95)) {
        return std::nullopt;
    }
    return resistivity_ohm_m / (kTwoPi * current_probe_m) * (1.0 / (1.0 - share) - 1.0 / share - 1.0);
}

Outcome electrode(const TraverseReadings& r, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "earth.electrode";
    if (!within(r.at_52_ohm, 1e-3, 1e5) || !within(r.at_62_ohm, 1e-3, 1e5) ||
        !within(r.at_72_ohm, 1e-3, 1e5) || (r.last_ohm && !within(*r.last_ohm, 1e-3, 1e5))) {
        return refuse(kSubject, say("no.earth.reading"));
    }
    Needs needs(limits);
    const double good = needs.take("spread.good", Unit::Percent);
    const double loose = needs.take("spread.loose", Unit::Percent);
    if (!needs.ok()) {
        return needs.refusal(kSubject);
    }
    const double spread_percent =
        100.0 * std::max(std::abs(r.at_52_ohm - r.at_62_ohm), std::abs(r.at_72_ohm - r.at_62_ohm)) /
        r.at_62_ohm;
    if (spread_percent > loose) {
        return refuse(kSubject, say("no.earth.spread", {{"spread", Quantity{spread_percent, Unit::Percent}},
                                                        {"loose", Quantity{loose, Unit::Percent}}}));
    }
    Outcome outcome = judge(r.at_62_ohm, r.last_ohm, limits);
    if (auto* v = std::get_if<Verdict>(&outcome)) {
        v->workings.push_back({"work.earth.spread",
                               {spread_percent, Unit::Percent},
                               model::number_for_people(r.at_52_ohm) + ", " +
                                   model::number_for_people(r.at_62_ohm) + ", " +
                                   model::number_for_people(r.at_72_ohm)});
        if (spread_percent > good && v->grade == Grade::Sound) {
            v->source = limits.source_of("spread.good");
            grade_as(*v, Grade::Watch, When::AtNextVisit,
                     say("because.earth.loose", {{"spread", Quantity{spread_percent, Unit::Percent}},
                                                 {"good", Quantity{good, Unit::Percent}}}),
                     say("action.earth.probe_farther"));
        }
    }
    return outcome;
}

Outcome electrode_single(double resistance_ohm, const model::LimitSet& limits) {
    constexpr std::string_view kSubject = "earth.electrode";
    if (!within(resistance_ohm, 1e-3, 1e5)) {
        return refuse(kSubject, say("no.earth.reading"));
    }
    Outcome outcome = judge(resistance_ohm, std::nullopt, limits);
    if (auto* v = std::get_if<Verdict>(&outcome); v != nullptr && v->grade == Grade::Sound) {
        grade_as(*v, Grade::Watch, When::AtNextVisit,
                 say("because.earth.no_traverse", {{"resistance", Quantity{resistance_ohm, Unit::Ohm}}}),
                 say("action.earth.traverse"));
    }
    return outcome;
}

std::optional<double> surface_factor(double resistivity_ohm_m, double surface_ohm_m, double depth_m) {
    if (!within(resistivity_ohm_m, 0.1, 100'000.0) || !within(surface_ohm_m, 0.1, 1e6) ||
        !within(depth_m, 0.0, 1.0)) {
        return std::nullopt;
    }
    return 1.0 - 0.09 * (1.0 - resistivity_ohm_m / surface_ohm_m) / (2.0 * depth_m + 0.09);
}

std::optional<StepTouch> step_touch(double surface_factor, double surface_ohm_m, double fault_s, Body body) {
    if (!within(surface_factor, 0.01, 100.0) || !within(surface_ohm_m, 0.1, 1e6) ||
        !within(fault_s, 0.03, 3.0)) {
        return std::nullopt;
    }
    // IEEE 80: tolerable body current k / √t for 50 kg and 70 kg; 1000 Ω of body.
    const double k = (body == Body::Kg50 ? 0.116 : 0.157) / std::sqrt(fault_s);
    const double ground = surface_factor * surface_ohm_m;
    return StepTouch{(1000.0 + 1.5 * ground) * k, (1000.0 + 6.0 * ground) * k};
}

std::optional<double> permissible_touch_V(double fault_s, const model::LimitSet& set) {
    const model::LimitTable* table = set.table("touch");
    if (table == nullptr || !within(fault_s, 1e-3, 100.0)) {
        return std::nullopt;
    }
    const model::LimitRow* row = row_up_to(*table, fault_s, Unit::Second);
    return row != nullptr ? cell(*table, *row, "voltage", Unit::Volt) : std::nullopt;
}

} // namespace crossarm::rules
