// Questions about a permit's state that guards, steps and faces ask alike.
#pragma once

#include "checklist/visit/permit.hpp"

#include <string>

namespace crossarm::visit::permit {

[[nodiscard]] const Party* party_of(const State& state, const std::string& id); ///< null when there is none
[[nodiscard]] const Earth* earth_of(const State& state, const std::string& id); ///< null when there is none
[[nodiscard]] const Point* point_of(const State& state, const std::string& id); ///< null when there is none

[[nodiscard]] const Proof& proof_of(const State& state, Side side);
/// Detector, every conductor, detector.
[[nodiscard]] bool is_whole(const Proof& proof, Side side);
/// Whole, and taken within the last Rules::proof_minutes.
[[nodiscard]] bool is_fresh(const Proof& proof, Side side, const Rules& rules, model::Timestamp now);

/// At least one point on either side, every one open and locked.
[[nodiscard]] bool points_locked(const State& state);
/// A control earth is on with both ends.
[[nodiscard]] bool control_earth_on(const State& state, Side side);
[[nodiscard]] bool line_end_on(const State& state, Side side); ///< of any earth
/// HV always; LV by the rules, or when a supply was found that cannot be locked.
[[nodiscard]] bool needs_earth(const State& state, const Rules& rules, Side side);
/// A lead decided that no earth can be fitted on that side.
[[nodiscard]] bool earth_excused(const State& state, Side side);
/// "hv" or "lv", as LeadDecided::about has it.
[[nodiscard]] const char* word_of(Side side);

/// Issued, accepted or suspended: somebody has it, supply stays off.
[[nodiscard]] bool holds(const Party& party);
[[nodiscard]] bool any_holds(const State& state);
[[nodiscard]] bool any_accepted(const State& state);
/// Before its end, on a clock that was not set back.
[[nodiscard]] bool in_time(const State& state, const Party& party, model::Timestamp now);
/// When the first party's permit was issued; nothing before.
[[nodiscard]] std::optional<model::Timestamp> first_issue(const State& state);

[[nodiscard]] int tools_missing(const Party& party);
[[nodiscard]] std::optional<Refusal> no_people_on(const State& state, const Party& party);
[[nodiscard]] std::optional<Refusal> no_tools_missing(const Party& party);
[[nodiscard]] std::optional<Refusal> no_working_earths(const State& state, const Party& party);
/// Nobody of it is on, its tools are in and its working earths off; else what is missing first.
[[nodiscard]] std::optional<Refusal> not_clear(const State& state, const Party& party);
[[nodiscard]] bool working_earth_on(const State& state, const std::string& party);
// What stands before the issue, one thing each: what is missing, or nothing.
[[nodiscard]] std::optional<Refusal> no_points(const State& state);
[[nodiscard]] std::optional<Refusal> no_supplies(const State& state);
[[nodiscard]] std::optional<Refusal> no_proof(const State& state, Side side);
[[nodiscard]] std::optional<Refusal> no_earth(const State& state, const Rules& rules, Side side);
[[nodiscard]] std::optional<Refusal> no_live_parts(const State& state);
[[nodiscard]] std::optional<Refusal> no_zone(const State& state);
/// All of it, first thing first; nothing when it is whole.
[[nodiscard]] std::optional<Refusal> not_ready(const State& state, const Rules& rules);

/// A sentence and the step that mends it.
[[nodiscard]] Refusal refuse(std::string key, std::string step,
                             std::vector<std::pair<std::string, model::Phrase::Value>> values = {});

} // namespace crossarm::visit::permit
