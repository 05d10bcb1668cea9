// A person's name leaves the office; what the person recorded stays.
//
// Journals, bundles and verdicts carry a person's id and nothing else of the person, so that no chain and no
// seal has to be touched. The name stands in the register that day packs are made from, and on tablets in the
// day packs that they hold. An erased person keeps the id; from the next day pack on the id stands where the
// name stood. Remarks are free text: what somebody typed into one stays, because it was sealed.
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "sync/office/office_store.hpp"

#include <set>
#include <string>

namespace crossarm::office {

/// From now on this person has no name. Again, nothing changes. Problem for an id that is none.
[[nodiscard]] model::Done erase_person(const OfficeStore& store, const std::string& person,
                                       model::Timestamp at);
[[nodiscard]] model::Result<std::set<std::string>> erased_people(const OfficeStore& store);

/// Puts the id in the place of the name of everybody who was erased.
[[nodiscard]] model::Done leave_out_names(const OfficeStore& store, model::Register& reg);

/// All that the office holds about a person, as one canonical JSON object: id, name as `reg` has it, roles,
/// and every entry that the person made, word for word.
[[nodiscard]] model::Result<std::string> export_person(const OfficeStore& store, const model::Register& reg,
                                                       const std::string& person);

} // namespace crossarm::office
