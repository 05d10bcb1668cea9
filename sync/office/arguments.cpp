#include "sync/office/arguments.hpp"

#include "checklist/model/nearest.hpp"

#include <algorithm>

namespace crossarm::office {

namespace {

constexpr const char* kHelp = "see crossarm-office --help";

bool is_in(const std::vector<std::string>& names, const std::string& name) {
    return std::ranges::find(names, name) != names.end();
}

} // namespace

model::Result<Arguments> Arguments::read(const std::vector<std::string>& words, const Grammar& grammar) {
    Arguments arguments;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (!words[i].starts_with("--")) {
            arguments.plain_.push_back(words[i]);
            continue;
        }
        const std::string name = words[i].substr(2);
        const bool takes_value = is_in(grammar.with_value, name);
        if (!takes_value && !is_in(grammar.alone, name)) {
            std::vector<std::string> known = grammar.with_value;
            known.insert(known.end(), grammar.alone.begin(), grammar.alone.end());
            const std::string nearest = model::nearest_word(known, name);
            return model::Problem{"--" + name,
                                  "is not known here" + (nearest.empty() ? "" : "; nearest is --" + nearest),
                                  kHelp};
        }
        if (takes_value && (i + 1 == words.size() || words[i + 1].starts_with("--"))) {
            return model::Problem{"--" + name, "nothing stands behind it", kHelp};
        }
        if (!arguments.named_.emplace(name, takes_value ? words[++i] : std::string()).second) {
            return model::Problem{"--" + name, "is given twice", "give it once"};
        }
    }
    return arguments;
}

bool Arguments::has(std::string_view name) const {
    return named_.find(name) != named_.end();
}

std::string Arguments::value(std::string_view name) const {
    const auto found = named_.find(name);
    return found == named_.end() ? std::string() : found->second;
}

model::Result<std::string> Arguments::needed(std::string_view name) const {
    if (!has(name)) {
        return model::Problem{"--" + std::string(name), "is missing", kHelp};
    }
    return value(name);
}

} // namespace crossarm::office
