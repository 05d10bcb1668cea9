// The label of an oil sample's bottle, as a page to print, and the number that the sample gets.
#pragma once

#include "checklist/model/protocol.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/timestamp.hpp"
#include "checklist/model/words.hpp"
#include "checklist/visit/state.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace crossarm::bundle {

/// What the label is made of. The references must outlive the call.
struct LabelFacts {
    const model::Structure& structure;
    const visit::State& state;
    const model::Protocol& protocol;
    const std::vector<model::Person>& people;
    model::Date printed;     ///< stands in for the date of sampling while that is not recorded
    std::string_view owner;  ///< the utility and its depot
    std::string_view reason; ///< why the sample was taken
    std::string_view tests;  ///< what the laboratory is asked for
    std::string_view liquid; ///< kind of insulating liquid; no checkpoint asks for it
};

/// One HTML page of 100 mm x 70 mm that needs nothing else to print. It carries what the trade writes on a
/// sample (IEC 60475:2011 cl. 4.3, from memory). A fact that is not known stays as an empty line for the pen.
/// Every text is escaped. `words` has the "sample_label." texts.
[[nodiscard]] std::string sample_label(const LabelFacts& facts, const model::Words& words);

/// "QM-0101-261125-1": structure, day of sampling (year, month, day), and the first running number that makes
/// a number not among `taken`. Unique for a structure and a day as far as `taken` knows.
[[nodiscard]] std::string suggested_sample_id(std::string_view structure, model::Timestamp at,
                                              const std::vector<std::string>& taken = {});

} // namespace crossarm::bundle
