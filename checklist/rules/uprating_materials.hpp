// The list of materials of an uprating: what is new, what comes down, what of that is used again.
#pragma once

#include "checklist/model/phrase.hpp"
#include "checklist/model/units.hpp"
#include "checklist/rules/uprating_breaker.hpp"
#include "checklist/rules/uprating_cable.hpp"
#include "checklist/rules/uprating_facts.hpp"
#include "checklist/rules/uprating_fuse.hpp"
#include "checklist/rules/uprating_lugs.hpp"

#include <optional>
#include <vector>

namespace crossarm::rules {

/// What the study proposes. Empty where it cannot say.
struct Proposal {
    std::optional<double> rating_kVA;
    bool uprate = false; ///< the rating is above the present one
    std::optional<FuseLink> link;
    std::vector<double> link_choice; ///< K links to choose from where the table has no row
    std::optional<Breakers> breakers;
    bool keep_breakers = false; ///< those that are there serve
    std::optional<Cable> cable;
    bool keep_cable = false;
    std::optional<Lugs> lugs;
    std::optional<double> earth_mm2;
    bool keep_earth = false;
    std::optional<int> rods_to_add;
    std::optional<double> fault_kA;
};

/// "new", "down" or "again": brought, taken away to the store, taken down and put up again or left in place.
enum class Goes { New, Down, Again };
[[nodiscard]] std::string_view name(Goes goes);

struct Material {
    Goes goes = Goes::New;
    model::Phrase what;       ///< "material.uprating.transformer" ...
    model::Quantity quantity; ///< pieces have Unit::One
    bool operator==(const Material&) const = default;
};

/// Empty when nothing is uprated. Cable is 10 % longer than measured, for ends and bends. Quantities that are
/// not known are 0 and the sentence says to measure.
[[nodiscard]] std::vector<Material> materials(const StudyFacts& facts, const Proposal& proposal);

} // namespace crossarm::rules
