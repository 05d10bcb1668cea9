// PINs of the people on this tablet: who has one, and wrong tries that are counted before they are answered.
//
// A wrong try is on the disk before the PIN is looked at, so that killing the program buys no free try. From
// the third wrong try in a row the person waits, twice as long after each further one; a right PIN during the
// wait is refused like a wrong one. The wait is measured by the time since the tablet was started, never by
// the calendar clock: setting that clock forward or back, also across a restart of program or tablet, does
// not shorten a wait. A restart of the tablet can lengthen it, by no more than the same wait again. What
// this cannot do: whoever can write the store's file can take the count away, and whoever can read it can
// guess elsewhere (pin_hash.hpp).
//
// Digits are never kept, written, logged or put into a Problem; the caller wipes its own.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/store/database.hpp"
#include "checklist/store/pin_hash.hpp"
#include "checklist/store/pin_try.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::store {

/// Ids of the people who have one, sorted.
[[nodiscard]] std::vector<std::string> people_with_pin(Database& database);
/// How the next try stands, counting nothing: NoPin, or Wait with what is left to wait, which may be 0.
[[nodiscard]] PinTry look_at_pin(Database& database, const std::string& person, PinMoment when);

/// The three steps of a try. The first commits the count, and answers Wait, NoPin or, when the PIN is to be
/// looked at, Wrong with the count as it stands if it should be; the last is for a right one.
[[nodiscard]] PinTry count_pin_try(Database& database, const std::string& person, PinMoment when);
[[nodiscard]] bool pin_fits(Database& database, const std::string& person, std::string_view digits);
void forget_wrong_pins(Database& database, const std::string& person);

/// All three. Problem when the clock's reading is none. Throws DiskFault.
[[nodiscard]] model::Result<PinTry> try_pin(Database& database, const std::string& person,
                                            std::string_view digits, PinMoment when);

/// Sets or changes a PIN. The first one on a tablet is a lead's and needs no witness. A person's first PIN
/// needs a witness, another person who has one; to change it, the person's own PIN or a lead's. The witness
/// is kept with the PIN. A witness's PIN is a try like any other. Problem, and nothing is changed, when one
/// of these is not so, or the PIN has a flaw (pin_rules.hpp). Throws DiskFault.
[[nodiscard]] model::Done set_pin(Database& database, const model::Person& person, std::string_view digits,
                                  const std::optional<PinWitness>& witness, PinMoment when,
                                  PinCost cost = kPinCost);

} // namespace crossarm::store
