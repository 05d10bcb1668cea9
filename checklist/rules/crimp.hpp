// Pressed lugs: cable, lug and die that fit each other, and metals that may touch.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>

namespace crossarm::rules {

/// Metal of a conductor, lug or bar. A bimetal lug has an aluminium barrel and a copper palm.
enum class Metal { Copper, TinnedCopper, Aluminium, Bimetal };

/// What was pressed: cable, lug and die as they are marked.
struct CrimpReadings {
    Metal cable = Metal::Aluminium;
    Metal lug = Metal::Aluminium;
    Metal landing = Metal::Copper; ///< what the lug is bolted to
    double cable_mm2 = 0.0;        ///< 1.5 to 1000
    double lug_mm2 = 0.0;          ///< as stamped, 1.5 to 1000
    std::optional<int> lug_code;   ///< die code stamped on the lug; nothing when it cannot be read
    int die_code = 0;              ///< code on the die used, 1 to 99
    std::optional<int>
        pressed_code; ///< code seen on the barrel after pressing; nothing when it cannot be read
};

/// In this order: lug size against cable size; code on die against the code on the lug, or, where the lug's
/// cannot be read, against the set's table "die_copper" or "die_aluminium" for the size (row key "95"); code
/// pressed into the barrel; barrel metal against cable metal; palm metal against what it is bolted to.
/// Wrong size, die or barrel metal: Danger, press a new lug. Aluminium on copper without a transition:
/// Repair. The code cannot be checked at all: refused. Subject "joint.crimp".
[[nodiscard]] Outcome crimp(const CrimpReadings& readings, const model::LimitSet& dies);

} // namespace crossarm::rules
