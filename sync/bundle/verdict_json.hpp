// Verdicts as JSON, as they travel in a bundle.
#pragma once

#include "checklist/model/json_reader.hpp"
#include "checklist/visit/assess.hpp"

#include <nlohmann/json_fwd.hpp>

namespace crossarm::bundle {

/// {"checkpoint":"...","verdict":{...}} or {"checkpoint":"...","noVerdict":{"subject":"...","why":{...}}}
[[nodiscard]] nlohmann::json to_json(const visit::Assessed& assessed);
/// The first thing wrong is remembered by `reader`.
[[nodiscard]] visit::Assessed read_assessed(const model::JsonReader& reader);

} // namespace crossarm::bundle
