// The known word that a mistyped one was most likely meant to be.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace crossarm::model {

/// The word of `known` with the fewest letters put in, taken out or changed: at most 3, and fewer than `word`
/// has letters. The first one of equals; empty when none is that near.
[[nodiscard]] std::string nearest_word(const std::vector<std::string>& known, std::string_view word);

/// `unknown unit "kv"; nearest is "kV"`: what to say about a word that is not among the known ones.
[[nodiscard]] std::string unknown_word(std::string_view what, std::string_view word,
                                       const std::vector<std::string>& known);

} // namespace crossarm::model
