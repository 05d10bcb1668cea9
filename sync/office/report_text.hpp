// A visit for people to read, and the same as JSON.
#pragma once

#include "checklist/model/protocol.hpp"
#include "checklist/model/words.hpp"
#include "sync/office/visit_record.hpp"

#include <string>

namespace crossarm::office {

/// Findings in the order of the protocol, verdicts with workings, source and cautions, decisions, what was
/// recorded differently on two tablets, and how many checkpoints stayed Unseen. Ends with a line end.
[[nodiscard]] std::string report_text(const VisitRecord& record, const model::Protocol& protocol,
                                      const model::Words& words);

/// The same facts as one canonical JSON object, without texts of any language.
[[nodiscard]] std::string report_json(const VisitRecord& record, const model::Protocol& protocol);

} // namespace crossarm::office
