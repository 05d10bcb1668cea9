// The permit as one page to print: number, work and its limits, isolation, proofs, earths, people, times,
// signatures.
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/model/words.hpp"
#include "checklist/visit/permit.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace crossarm::bundle {

/// What the page is made of. The references must outlive the call.
struct PermitFacts {
    const model::Structure& structure;
    const visit::permit::State& permit;
    const visit::permit::Rules& rules;
    const std::vector<model::Person>& people;
    model::Timestamp printed;
    std::string_view owner; ///< the utility and its depot
};

/// One HTML page for A4, upright, that needs nothing else to print; a permit with very many points, earths or
/// parties runs on to a second one. What the open guidance on permits wants on a form (HSG250, appendix on
/// the essential elements, from memory) has its place; what was not recorded is an empty line for the pen.
/// A signature made over another sheet than today's says so. The page says nowhere that anything is dead or
/// safe: it says who recorded what, and when. `words` has the "permit_page." texts.
[[nodiscard]] std::string permit_page(const PermitFacts& facts, const model::Words& words);

/// Strokes of a signature ("x,y x,y;x,y" in tenths of a millimetre) as an inline drawing; "" for none or
/// when they cannot be read.
[[nodiscard]] std::string signature_drawing(std::string_view strokes);

} // namespace crossarm::bundle
