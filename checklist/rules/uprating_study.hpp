// The whole uprating study of one structure, from its load to the list of materials.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/rules/uprating_cost.hpp"
#include "checklist/rules/uprating_facts.hpp"
#include "checklist/rules/uprating_fuse.hpp"
#include "checklist/rules/uprating_lugs.hpp"
#include "checklist/rules/uprating_materials.hpp"
#include "checklist/rules/uprating_rating.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::rules {

/// One check: what was looked at ("cable.fitted", "cable.proposed") and the answer.
struct StudyCheck {
    std::string name; ///< with "uprating.check." before it the key of its title
    Outcome outcome;
    bool operator==(const StudyCheck&) const = default;
};

/// A way to serve the horizon, with what it loses.
struct Alternative {
    std::string kind;        ///< "present", "smaller", "chosen", "larger", "second"
    double rating_kVA = 0.0; ///< of the unit that is added or put in its place
    bool serves = false;
    double headroom_now_kVA = 0.0;
    double headroom_horizon_kVA = 0.0;
    std::optional<LifeCost> cost; ///< of all units that then run; nothing when losses are not known
    bool losses_usual = false;    ///< from a table of highest losses, not from plate or stock list
    std::optional<double> price;
};

/// What the proposed cable would carry under one set of conditions.
struct Condition {
    Laid laid = Laid::E;
    double around_C = 0.0;           ///< air, or ground for a duct
    double soil_Km_W = 0.0;          ///< 0 in air
    std::optional<double> carries_A; ///< nothing where the table does not go
    bool enough = false;
};

struct Study {
    std::string structure;
    std::optional<Demand> demand;
    std::vector<RatingRow> rows;
    Proposal proposal;
    std::vector<StudyCheck> checks; ///< in the order in which a person would ask
    std::vector<Alternative> alternatives;
    std::vector<Condition> conditions;
    std::vector<Material> materials;
    std::optional<double> share_now_percent; ///< of the present rating
    std::optional<double> hot_spot_now_C;    ///< on the worst day, present transformer
    std::optional<double> ageing_now;
    std::optional<double> years_left; ///< until the planned share is reached; 0: reached; nothing: never or
                                      ///< unknown
    [[nodiscard]] int count(model::Grade grade) const; ///< Repair counts Danger too
    [[nodiscard]] int without_verdict() const;
};

/// Deterministic: the same facts and library give the same study. Facts that are missing or impossible give
/// checks without a verdict; nothing is assumed in their place, except that where the site does not say: no
/// growth, power factor 0.9, air 30 °C. The rating is the smallest in stock that serves the horizon, or the
/// wish.
[[nodiscard]] Study uprating_study(const StudyFacts& facts, const model::LimitLibrary& library);

/// What comes first in the ranking: nothing recorded last; then fewest years left; then the highest share of
/// the present rating; then more critical customers, more customers, and the id.
struct Urgency {
    bool known = false;
    std::optional<double> years_left; ///< nothing: never
    double share_percent = 0.0;
    int critical_customers = 0;
    int customers = 0;
    std::string structure;
};
[[nodiscard]] Urgency urgency_of(const Study& study, const model::Structure& at);
[[nodiscard]] bool more_urgent(const Urgency& a, const Urgency& b);

} // namespace crossarm::rules
