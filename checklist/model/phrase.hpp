// A sentence to be said to a person: a key into the words files and the values that go into it.
#pragma once

#include "checklist/model/units.hpp"

#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace crossarm::model {

/// Rules and interlocks say what they mean without choosing a language: `key` names a whole sentence in
/// assets/words, whose places `{name}` are filled from `values`.
struct Phrase {
    using Value = std::variant<std::string, Quantity>;

    std::string key;
    std::vector<std::pair<std::string, Value>> values;

    bool operator==(const Phrase&) const = default;
};

} // namespace crossarm::model
