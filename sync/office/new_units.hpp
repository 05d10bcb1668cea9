// Transformers that were put up in uprating visits, and what the register becomes by them.
//
// Nothing is stored for it: the office holds the signed visits, and each time a day pack is made the plates
// are read out of them again. The register file stays the clerk's: what the clerk entered comes first.
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/model/result.hpp"
#include "checklist/visit/state.hpp"
#include "sync/office/office_store.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::office {

/// A unit that a signed uprating visit bolted on its frame.
struct NewUnit {
    model::Id visit;
    std::string structure;
    model::Timestamp signed_at;
    bool beside = false;     ///< as a second one; the old one stays
    model::Nameplate before; ///< as the register had it when the visit was done
    model::Nameplate after;  ///< what was recorded; a fact that was not is not known, it is not the old one's
    std::vector<std::string> left_out; ///< what was recorded and cannot be, or differs between two tablets
    visit::State state;
};

/// From every signed visit under the protocol "uprating" whose unit is on its frame, in the order in which
/// the visits began.
[[nodiscard]] model::Result<std::vector<NewUnit>> new_units(const OfficeStore& store);

/// What became of one new unit.
struct Uptake {
    enum class Kind {
        TakenUp,  ///< the register had the old unit; it has the new one now
        Known,    ///< the register has this unit, or a later one, already: nothing was changed
        Beside,   ///< a second unit: the clerk gives it a row of its own
        Disputed, ///< the register has neither the old unit nor this one: the clerk decides
        NoRow     ///< the register has no such structure
    };
    Kind kind = Kind::Known;
    NewUnit unit;
};
/// A unit is recognised by make, serial number and rating.
[[nodiscard]] std::vector<Uptake> take_up(model::Register& reg, const std::vector<NewUnit>& units);
/// One line for the clerk; empty for Known.
[[nodiscard]] std::string uptake_text(const Uptake& uptake);

} // namespace crossarm::office
