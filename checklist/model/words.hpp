// The texts of one language, read from assets/words/<language>/*.json.
#pragma once

#include "checklist/model/grade.hpp"
#include "checklist/model/phrase.hpp"
#include "checklist/model/result.hpp"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::model {

/// One language. A file is one JSON object of key -> text; keys are dotted lower-case names, and a text
/// has places such as {limit}. Several files make one language; a key stands in one of them only.
class Words {
public:
    /// Adds the texts of one file. `file` is used in errors. Problem: not JSON, not an object of texts, a
    /// key that is already there.
    [[nodiscard]] Done add(std::string_view json_text, std::string_view file);

    /// The text of `key` with no places filled; the key itself in ‹› when it is missing, so that a missing
    /// text is seen and never silently empty.
    [[nodiscard]] std::string say(std::string_view key) const;
    /// The sentence of `phrase` with every {place} filled; an unfilled place stays visible.
    [[nodiscard]] std::string say(const Phrase& phrase) const;
    [[nodiscard]] std::string say(Grade grade) const; ///< key "grade.<name>"
    [[nodiscard]] std::string say(When when) const;   ///< key "when.<name>"

    [[nodiscard]] bool has(std::string_view key) const;
    [[nodiscard]] std::vector<std::string> keys() const;
    /// Every text, in order of keys: what the font must be able to draw.
    [[nodiscard]] const std::map<std::string, std::string, std::less<>>& texts() const { return texts_; }

private:
    std::map<std::string, std::string, std::less<>> texts_;
};

} // namespace crossarm::model
