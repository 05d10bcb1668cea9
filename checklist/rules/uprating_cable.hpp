// What an LV cable carries where it lies, and the smallest one that does.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/crimp.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::rules {

/// How the cable lies. Names in files: "e" multicore in air, "f" single cores in trefoil in air, "c" clipped
/// to a surface, "d1" in a duct in the ground, "d2" directly in the ground.
enum class Laid { E, F, C, D1, D2 };
[[nodiscard]] std::optional<Laid> laid_of(std::string_view name);
[[nodiscard]] std::string_view name(Laid laid);

/// Where a cable lies.
struct CablePlace {
    Metal metal = Metal::Aluminium;  ///< copper or aluminium
    std::string insulation = "xlpe"; ///< "xlpe" or "pvc"
    Laid laid = Laid::E;
    double air_C = 30.0;                 ///< around it, for e, f, c; -40 to 60
    double ground_C = 20.0;              ///< around it, for d1, d2; -10 to 60
    std::optional<double> soil_Km_W;     ///< thermal resistivity, for d1, d2; 0.1 to 10
    int circuits_beside = 0;             ///< other loaded circuits in the same bunch or trench, 0 to 40
    double third_harmonic_percent = 0.0; ///< of the line current, 0 to 100
};

/// Current-carrying capacity of one run, and the factors that made it.
struct Ampacity {
    double table_A = 0.0;
    double temperature = 1.0;
    double soil = 1.0;
    double grouping = 1.0;
    double harmonic = 1.0;
    model::Source source;
    [[nodiscard]] double each_A() const { return table_A * temperature * soil * grouping * harmonic; }
};

/// One of `runs` equal runs of `area_mm2`, the runs counted among the grouped circuits. From the table
/// "<al|cu>_<insulation>_<method>", "air_<insulation>" or "ground_<insulation>", "soil", "grouping_air" or
/// "grouping_duct"; each factor from the next harsher row, never interpolated and never beyond the table.
/// A third harmonic takes "harmonic.factor" from "harmonic.line_from" percent on. NoVerdict says which of the
/// table's own conditions is not met.
[[nodiscard]] std::variant<Ampacity, model::NoVerdict> ampacity(const CablePlace& place, double area_mm2,
                                                                int runs, const model::LimitSet& set);

/// A cable: equal runs of one size a phase.
struct Cable {
    double area_mm2 = 0.0;
    int runs = 0;
    bool operator==(const Cable&) const = default;
};
/// Sizes of the table for that place, rising; empty when there is no such table.
[[nodiscard]] std::vector<double> cable_sizes(const CablePlace& place, const model::LimitSet& set);

/// Whether the cable carries `current_A`, all runs together with "uneven" percent taken off for several:
/// fails when not, marginal above 90 %. Subject "uprating.cable".
[[nodiscard]] Outcome cable_check(const Cable& cable, const CablePlace& place, double current_A,
                                  double uneven_percent, const model::LimitSet& set);
/// Total capacity of all runs, uneven sharing taken off; nothing where the table's conditions are not met.
[[nodiscard]] std::optional<double> cable_carries_A(const Cable& cable, const CablePlace& place,
                                                    double uneven_percent, const model::LimitSet& set);

/// Neutral: the highest neutral current of the horizon against one core of the same cable (all runs). With a
/// third harmonic above "harmonic.neutral_from" the neutral current, 3 × h3 × line, decides the size. Subject
/// "uprating.neutral".
[[nodiscard]] Outcome neutral_check(const Cable& cable, const CablePlace& place, double line_A,
                                    double neutral_A, double uneven_percent, const model::LimitSet& set);

} // namespace crossarm::rules
