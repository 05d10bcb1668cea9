// Members that a protocol file has in many places: ids, sentences, words of a list, ranges.
#pragma once

#include "checklist/model/json_reader.hpp"
#include "checklist/model/protocol.hpp"

#include <initializer_list>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace crossarm::model {

/// Members that are there but not in `known` are a problem; the nearest known name is said.
void known_members(const JsonReader& from, std::initializer_list<const char*> known);

/// An id: small letters, digits and '_', begins with a letter, at most 64; `dotted` allows groups joined by
/// '.'. Ids stand in journals and file names for ever, hence so narrow.
[[nodiscard]] std::string id_text(const JsonReader& from, const char* name, bool dotted = false);
[[nodiscard]] bool is_id(std::string_view text, bool dotted = false);

/// A sentence for people of `at_least` to `at_most` characters (not bytes), without control characters.
[[nodiscard]] std::string sentence(const JsonReader& from, const char* name, std::size_t at_least,
                                   std::size_t at_most);
/// Every sentence of a list; nothing when the member is not there.
[[nodiscard]] std::vector<std::string> sentences(const JsonReader& from, const char* name,
                                                 std::size_t at_least, std::size_t at_most);

/// A list longer than `at_most` items is a problem.
void no_more_than(const JsonReader& from, const char* name, std::size_t at_most, std::size_t items);

/// A whole number from `low` to `high`.
[[nodiscard]] int whole(const JsonReader& from, const char* name, int low, int high);
/// [low, high], both finite, low not above high.
[[nodiscard]] Range range(const JsonReader& from, const char* name);

/// One word of a list, and what it stands for; the first meaning after a problem.
template<typename T>
[[nodiscard]] T one_of(const JsonReader& from, const char* name,
                       const std::vector<std::pair<std::string, T>>& words);

/// The index of the text of `name` in `words`; nothing after a problem.
[[nodiscard]] std::optional<std::size_t> word_index(const JsonReader& from, const char* name,
                                                    const std::vector<std::string>& words);

template<typename T>
T one_of(const JsonReader& from, const char* name, const std::vector<std::pair<std::string, T>>& words) {
    std::vector<std::string> known;
    known.reserve(words.size());
    for (const auto& [word, meaning] : words) {
        known.push_back(word);
    }
    return words[word_index(from, name, known).value_or(0)].second;
}

} // namespace crossarm::model
