// What the finger meant.
#pragma once

#include "checklist/model/finding.hpp"
#include "checklist/model/ids.hpp"
#include "checklist/model/permit.hpp"

#include <string>
#include <variant>

namespace crossarm::visit {

struct OpenVisit {
    std::string structure;
};
struct Record {
    model::Finding finding;
};
struct UndoLast {};
struct FinishStage {
    std::string stage;
};
struct DecideDanger {
    std::string checkpoint;
    std::string decision; ///< "put_right" "supply_stays_off" "may_return"
    std::string reason;
};
struct SignVisit {
    std::string head; ///< hash of the last entry shown to the signer
    std::string words;
    std::string strokes = {};
};
struct BreakOff {
    std::string reason;
};
/// Something about the permit.
struct ActOnPermit {
    model::permit::Act act;
};

using Intent =
    std::variant<OpenVisit, Record, UndoLast, FinishStage, DecideDanger, SignVisit, BreakOff, ActOnPermit>;

} // namespace crossarm::visit
