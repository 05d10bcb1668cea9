// Members that a protocol file has in many places.
#include "checklist/model/protocol_fields.hpp"

#include "checklist/model/nearest.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <string_view>

namespace crossarm::model {

namespace {

constexpr std::size_t kLongestId = 64;

std::size_t characters(std::string_view utf8) {
    return static_cast<std::size_t>(
        std::ranges::count_if(utf8, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

void check_sentence(const JsonReader& from, const std::string& name, const std::string& text,
                    std::size_t at_least, std::size_t at_most) {
    const std::size_t count = characters(text);
    if (count == 0 && at_least > 0) {
        from.wrong(name.c_str(), "this text is empty", "write it out");
    } else if (count < at_least) {
        from.wrong(name.c_str(), "this text has only " + std::to_string(count) + " characters",
                   "write at least " + std::to_string(at_least));
    } else if (count > at_most) {
        from.wrong(name.c_str(), "this text has " + std::to_string(count) + " characters",
                   "shorten it to " + std::to_string(at_most));
    } else if (std::ranges::any_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x20U; })) {
        from.wrong(name.c_str(), "this text has a line break or another control character",
                   "write it on one line");
    }
}

} // namespace

void known_members(const JsonReader& from, std::initializer_list<const char*> known) {
    const std::vector<std::string> names(known.begin(), known.end());
    for (const auto& [name, value] : from.json().items()) {
        if (std::ranges::find(names, name) == names.end()) {
            from.wrong(name.c_str(), unknown_word("member", name, names), "take it out or correct its name");
        }
    }
}

bool is_id(std::string_view text, bool dotted) {
    bool at_start = true;
    for (const char c : text) {
        const bool letter = c >= 'a' && c <= 'z';
        const bool inside = letter || (c >= '0' && c <= '9') || c == '_' || (dotted && c == '.');
        if (!(at_start ? letter : inside)) {
            return false;
        }
        at_start = c == '.';
    }
    return !at_start && text.size() <= kLongestId;
}

std::string id_text(const JsonReader& from, const char* name, bool dotted) {
    std::string text = from.text(name);
    if (!is_id(text, dotted)) {
        from.wrong(name, "\"" + text.substr(0, kLongestId) + "\" is not an id",
                   dotted ? "write small letters, digits and _, in groups joined by a dot, for example "
                            "oil.breakdown; at most 64"
                          : "write small letters, digits and _, beginning with a letter; at most 64");
    }
    return text;
}

std::string sentence(const JsonReader& from, const char* name, std::size_t at_least, std::size_t at_most) {
    std::string text = from.text(name);
    check_sentence(from, name, text, at_least, at_most);
    return text;
}

std::vector<std::string> sentences(const JsonReader& from, const char* name, std::size_t at_least,
                                   std::size_t at_most) {
    if (!from.has(name)) {
        return {};
    }
    std::vector<std::string> texts = from.texts(name);
    for (std::size_t i = 0; i < texts.size(); ++i) {
        check_sentence(from, std::string(name) + "/" + std::to_string(i), texts[i], at_least, at_most);
    }
    return texts;
}

void no_more_than(const JsonReader& from, const char* name, std::size_t at_most, std::size_t items) {
    if (items > at_most) {
        from.wrong(name, "this list has " + std::to_string(items) + " items",
                   "shorten it to " + std::to_string(at_most));
    }
}

int whole(const JsonReader& from, const char* name, int low, int high) {
    const double value = from.number(name);
    if (value != std::floor(value) || value < low || value > high) {
        from.wrong(name,
                   "this is not a whole number from " + std::to_string(low) + " to " + std::to_string(high),
                   "write one");
        return low;
    }
    return static_cast<int>(value);
}

Range range(const JsonReader& from, const char* name) {
    const nlohmann::json& pair = from.raw(name);
    const bool two_numbers = pair.is_array() && pair.size() == 2 && pair[0].is_number() &&
                             pair[1].is_number() && std::isfinite(pair[0].get<double>()) &&
                             std::isfinite(pair[1].get<double>());
    if (!two_numbers) {
        from.wrong(name, "this is not a range",
                   "write the lowest and the highest value, for example [0, 100]");
        return {};
    }
    const Range out{pair[0].get<double>(), pair[1].get<double>()};
    if (out.low > out.high) {
        from.wrong(name, "the lowest value is above the highest", "write the lowest value first");
    }
    return out;
}

std::optional<std::size_t> word_index(const JsonReader& from, const char* name,
                                      const std::vector<std::string>& words) {
    const std::string word = from.text(name);
    const auto found = std::ranges::find(words, word);
    if (found != words.end()) {
        return static_cast<std::size_t>(found - words.begin());
    }
    std::string list;
    for (const std::string& known : words) {
        list += (list.empty() ? "" : ", ") + known;
    }
    from.wrong(name, unknown_word("word", word.substr(0, kLongestId), words), "write one of: " + list);
    return std::nullopt;
}

} // namespace crossarm::model
