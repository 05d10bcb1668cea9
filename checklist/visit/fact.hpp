// A fact about how a visit was recorded, for the lead who is to sign it. No accusation, and no verdict.
#pragma once

#include "checklist/model/ids.hpp"
#include "checklist/model/phrase.hpp"

#include <vector>

namespace crossarm::visit {

struct Fact {
    model::Phrase says;
    std::vector<model::Id> about; ///< the entries it is about, in their order
    bool operator==(const Fact&) const = default;
};

} // namespace crossarm::visit
