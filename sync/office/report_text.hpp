// A visit for people to read, and the same as JSON.
#pragma once

#include "checklist/model/protocol.hpp"
#include "checklist/model/words.hpp"
#include "sync/office/visit_record.hpp"

#include <string>

namespace crossarm::office {

/// `rules` are the utility's for the permit: what they would have refused is counted as irregular. Findings
/// in the order of the protocol, verdicts with workings, source and cautions, decisions, what was recorded
/// differently on two tablets, and how many checkpoints stayed Unseen. Ends with a line end.
[[nodiscard]] std::string report_text(const VisitRecord& record, const model::Protocol& protocol,
                                      const model::Words& words, const visit::permit::Rules& rules = {});

/// The same facts as one canonical JSON object, without texts of any language.
[[nodiscard]] std::string report_json(const VisitRecord& record, const model::Protocol& protocol,
                                      const visit::permit::Rules& rules = {});

} // namespace crossarm::office
