#include "checklist/model/words.hpp"

#include "checklist/model/canonical.hpp"

#include <nlohmann/json.hpp>

namespace crossarm::model {

Done Words::add(std::string_view json_text, std::string_view file) {
    const Result<nlohmann::json> parsed = parse_json(json_text, file);
    if (!parsed) {
        return parsed.problem();
    }
    if (!parsed->is_object()) {
        return Problem{std::string(file) + ": /", "a words file is one object of key and text",
                       "write {\"key\": \"text\", ...}"};
    }
    for (const auto& [key, value] : parsed->items()) {
        const std::string where = std::string(file) + ": /" + key;
        if (!value.is_string()) {
            return Problem{where, "the text is not a string", "write the text in double quotes"};
        }
        if (texts_.contains(key)) {
            return Problem{where, "the key stands in another file of this language already",
                           "keep it in one of the two files"};
        }
        texts_.emplace(key, value.get<std::string>());
    }
    return {};
}

std::string Words::say(std::string_view key) const {
    const auto found = texts_.find(key);
    return found == texts_.end() ? "‹" + std::string(key) + "›" : found->second;
}

std::string Words::say(const Phrase& phrase) const {
    const std::string text = say(phrase.key);
    std::string out;
    std::size_t pos = 0;
    while (pos < text.size()) {
        const std::size_t open = text.find('{', pos);
        const std::size_t close = open == std::string::npos ? open : text.find('}', open);
        if (close == std::string::npos) {
            break;
        }
        out.append(text, pos, open - pos);
        const std::string place = text.substr(open + 1, close - open - 1);
        std::string filled = text.substr(open, close - open + 1);
        for (const auto& [name_of_place, value] : phrase.values) {
            if (name_of_place == place) {
                const auto* plain = std::get_if<std::string>(&value);
                filled = plain != nullptr ? *plain : for_people(std::get<Quantity>(value));
            }
        }
        out += filled;
        pos = close + 1;
    }
    return out.append(text, pos);
}

std::string Words::say(Grade grade) const {
    return say("grade." + std::string(name(grade)));
}

std::string Words::say(When when) const {
    return say("when." + std::string(name(when)));
}

bool Words::has(std::string_view key) const {
    return texts_.find(key) != texts_.end();
}

std::vector<std::string> Words::keys() const {
    std::vector<std::string> out;
    out.reserve(texts_.size());
    for (const auto& [key, text] : texts_) {
        out.push_back(key);
    }
    return out;
}

} // namespace crossarm::model
