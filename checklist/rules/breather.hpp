// The breather: spent gel, water taken up with the air, days until the gel is spent, regeneration, oil cup.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/timestamp.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::rules {

/// What is seen at the breather's glass.
struct GelReadings {
    double spent_percent = 0.0; ///< share of the gel that has changed colour, 0 to 100 %
    std::string kind;           ///< "blue", "orange", "none" (sealed tank), "" unknown
    bool from_top = false;      ///< the colour has changed at the top first
};

/// Grades the spent share. `limits` is a set of subject "breather.gel" with "spent.*" in %. Colour shows that
/// gel is spent, not how much it can still take up. Change from the top means that air comes in above the
/// breather: at least Repair. NoVerdict: a share out of range, an unknown kind, no breather fitted.
[[nodiscard]] Outcome gel(const GelReadings& readings, const model::LimitSet& limits);

/// Cautions for handling gel of that kind; unknown gel is handled as cobalt gel.
[[nodiscard]] std::vector<model::Phrase> gel_cautions(const std::string& kind);

/// What drives the breathing on an average day.
struct BreathReadings {
    double oil_litres = 0.0;       ///< 10 to 20 000 L
    double air_swing_K = 0.0;      ///< day-night swing of the air, 0 to 60 K
    double load_swing_K = 0.0;     ///< swing of the mean oil temperature by the load, 0 to 60 K
    double air_C = 0.0;            ///< air that is drawn in, -30 to 55 °C
    double humidity_percent = 0.0; ///< its relative humidity, 0 to 100 %
};
/// What comes in with one day's breathing.
struct Breath {
    double air_litres = 0.0;
    double water_per_air_g_m3 = 0.0;
    double water_g = 0.0;
};
/// Water vapour in air, g/m³: Magnus formula over water (WMO, from memory; within 1 % from -30 °C to 55 °C).
[[nodiscard]] double water_in_air_g_m3(double air_C, double humidity_percent);
/// One breath a day: volume swing of the oil times the humidity of the air. `practice` is a set of subject
/// "breather.life". Nothing for impossible readings or a set without "expansion" (per K, unit 1).
[[nodiscard]] std::optional<Breath> breath_of_a_day(const BreathReadings& readings,
                                                    const model::LimitSet& practice);
/// Water that dry gel takes up, % of its mass: the working share "gel.capacity", or the equilibrium of the
/// table "uptake" at that humidity where that is less.
[[nodiscard]] std::optional<double> gel_capacity_percent(double humidity_percent,
                                                         const model::LimitSet& practice);
/// Gel for that many days (1 to 20 000) with this breathing, kg.
[[nodiscard]] std::optional<double> gel_for_days(const BreathReadings& readings, double days,
                                                 const model::LimitSet& practice);
/// Gel by rating, kg: table "by_rating" (columns "up_to" kV.A, "gel" kg). Nothing outside 5 to 5000 kVA.
[[nodiscard]] std::optional<double> gel_for_rating(double rating_kVA, const model::LimitSet& practice);

struct GelLifeReadings {
    BreathReadings breath;
    double gel_kg = 0.0;                     ///< 0.05 to 20 kg
    double spent_percent = 0.0;              ///< 0 to 100 %
    std::optional<double> days_since_change; ///< since it was dry, 1 to 20 000 d
    std::string kind;                        ///< as GelReadings::kind
};
/// Days until the share at which gel is exchanged, and the date of the visit that is due then. `gel` is a set
/// of subject "breather.gel" ("spent.repair_from" or "spent.repair_above"). The faster of the worked-out and
/// the seen rate counts. Gel that is spent "leak.factor" times faster than its breathing explains means a
/// leak above the breather or an empty oil cup: Repair. Watch when it does not last "visit.usual" days.
/// NoVerdict: impossible readings, no breather, sets without figures.
[[nodiscard]] Outcome gel_life(const GelLifeReadings& readings, model::Date today, const model::LimitSet& gel,
                               const model::LimitSet& practice);

/// How gel of a kind is dried.
struct Regeneration {
    double low_C = 0.0, high_C = 0.0;
    double low_hours = 0.0, high_hours = 0.0;
    int times_left = 0;
    model::Source source;
    std::vector<model::Phrase> cautions;
};
/// `regeneration` is a set of subject "breather.regeneration" with a table of that name. Nothing for a kind
/// whose indicator is not known: such gel is not heated. `times_done` is 0 or more.
[[nodiscard]] std::optional<Regeneration> regenerate(const std::string& kind, int times_done,
                                                     const model::LimitSet& regeneration);

/// The oil cup: "at_mark", "low", "dirty", "empty". `cup` is a set of subject "breather.cup" with a table
/// "cup".
[[nodiscard]] Outcome oil_cup(const std::string& seen, const model::LimitSet& cup);

} // namespace crossarm::rules
