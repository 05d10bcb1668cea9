// People, whom to call, due visits, earlier readings and limit sets as JSON, as they stand in day packs and
// register files.
#pragma once

#include "checklist/model/json_reader.hpp"
#include "checklist/model/limits.hpp"
#include "checklist/model/register.hpp"

#include <nlohmann/json_fwd.hpp>

#include <optional>
#include <string>
#include <vector>

namespace crossarm::bundle {

/// {"id":"P-014","name":"...","roles":["crew"],"competences":[{"what":"climb","until":"2027-03-31"}]}; a
/// person without competences has no such member.
[[nodiscard]] nlohmann::json to_json(const model::Person& person);
[[nodiscard]] model::Person read_person(const model::JsonReader& reader);

/// {"control_room_call":"...","emergency_call":"..."}; what is not known is left out.
[[nodiscard]] nlohmann::json to_json(const model::Utility& utility);
[[nodiscard]] model::Utility read_utility(const model::JsonReader& reader);

/// {"structure":"QM-0107","kind":"upkeep","due":"2026-03-14","reason":"..."}
[[nodiscard]] nlohmann::json to_json(const model::DueVisit& due);
[[nodiscard]] model::DueVisit read_due(const model::JsonReader& reader);

/// {"structure":"QM-0107","checkpoint":"oil.level","date":"2025-03-14","value":{"grade":"watch"}}
[[nodiscard]] nlohmann::json to_json(const model::EarlierReading& earlier);
[[nodiscard]] model::EarlierReading read_earlier(const model::JsonReader& reader);

/// As a limit file ("crossarm.limits/1") has it, so that model::read_limit_set reads it back.
[[nodiscard]] nlohmann::json to_json(const model::LimitSet& set);

/// What is wrong with the roles, the competences, a number to call or the kind, or nothing.
[[nodiscard]] std::optional<std::string> wrong_roles(const std::vector<std::string>& roles);
[[nodiscard]] std::optional<std::string> wrong_competences(const std::vector<model::Competence>& competences);
[[nodiscard]] std::optional<std::string> wrong_call(const std::string& call);
[[nodiscard]] std::optional<std::string> wrong_kind(const std::string& kind);

} // namespace crossarm::bundle
