// From the answers of a visit to verdicts: picks the readings, calls the rule.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/visit/state.hpp"

#include <string>
#include <variant>
#include <vector>

namespace crossarm::visit {

/// A rule's answer at the checkpoint whose reading asked for it.
struct Assessed {
    std::string checkpoint;
    std::variant<model::Verdict, model::NoVerdict> outcome;
    bool operator==(const Assessed&) const = default;
};

/// Every verdict that the answers so far allow, in the order of the protocol. A rule whose readings are not
/// all there yet is left out; one whose readings are impossible says so with NoVerdict.
[[nodiscard]] std::vector<Assessed> assess(const model::Protocol& protocol, const model::Structure& structure,
                                           const model::Register& reg, const model::LimitLibrary& limits,
                                           const State& state);

/// How a checkpoint stands: its own grade, made worse by its verdict. Nothing while Unseen, out of reach or
/// not fitted, or when the answer carries no grade.
[[nodiscard]] std::optional<model::Grade> grade_at(const model::Protocol& protocol, const State& state,
                                                   const std::vector<Assessed>& assessed,
                                                   const std::string& checkpoint);

/// How a part stands on the drawing.
struct PartStanding {
    std::optional<model::Grade> worst; ///< nothing when no grade was recorded
    int asked = 0;                     ///< checkpoints of the part that are asked in this visit
    int unseen = 0;                    ///< of those, not recorded yet
    int out_of_reach = 0;
    int not_fitted = 0;
    /// Sound may be shown only when nothing needed is unseen or out of reach.
    [[nodiscard]] bool may_show_sound() const { return unseen == 0 && out_of_reach == 0; }
    bool operator==(const PartStanding&) const = default;
};
[[nodiscard]] PartStanding standing(const model::Protocol& protocol, const model::Structure& structure,
                                    const State& state, const std::vector<Assessed>& assessed,
                                    const std::string& part);

/// Checkpoints that stand at Danger (by grade or by verdict) and have no decision of a lead about exactly
/// that entry.
[[nodiscard]] std::vector<std::string> undecided_dangers(const model::Protocol& protocol, const State& state,
                                                         const std::vector<Assessed>& assessed);

} // namespace crossarm::visit
