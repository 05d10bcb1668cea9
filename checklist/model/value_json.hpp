// A finding's value as JSON: one member whose name tells which kind it is.
#pragma once

#include "checklist/model/finding.hpp"
#include "checklist/model/result.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace crossarm::model {

/// {"grade":"watch"} {"choice":["dry"]} {"quantity":{"value":41.2,"unit":"kV"}} {"readings":[{...},...]}
/// {"text":"..."} {"outOfReach":"reason"} {"notFitted":true}
[[nodiscard]] nlohmann::json value_to_json(const Value& value);
/// The same as RFC 8785 text.
[[nodiscard]] std::string to_canonical(const Value& value);
/// Reads what value_to_json wrote; `place` begins the Problem's place.
[[nodiscard]] Result<Value> value_from_json(const nlohmann::json& json, const std::string& place);

/// {"value":41.2,"unit":"kV"} with the UCUM code of the unit.
[[nodiscard]] nlohmann::json quantity_to_json(Quantity quantity);
[[nodiscard]] Result<Quantity> quantity_from_json(const nlohmann::json& json, const std::string& place);

} // namespace crossarm::model
