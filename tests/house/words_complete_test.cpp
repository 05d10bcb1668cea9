// Every text that the code asks for is in assets/words, in every language, and none lies there unused.
#include "checklist/model/words.hpp"
#include "tests/house/project_files.hpp"
#include "tests/support/catch.hpp"

#include <map>
#include <regex>
#include <set>

using namespace crossarm::house;

namespace {

using Texts = std::map<std::string, std::string, std::less<>>;

// Keys beginning so are texts even while no file has one yet.
const std::set<std::string> kBeginnings = {"action",  "because", "caution", "grade", "locked", "mark",
                                           "missing", "no",      "refused", "when",  "work"};

std::string first_part(const std::string& key) {
    return key.substr(0, key.find('.'));
}

// "bushings.because" of "bushings.because.none"; empty for a key of two parts.
std::string first_two_parts(const std::string& key) {
    const std::size_t second = key.find('.', key.find('.') + 1);
    return second == std::string::npos ? "" : key.substr(0, second);
}

// Dotted names in data files: checkpoints, limits, rules. They share some beginnings with texts.
std::set<std::string> data_beginnings() {
    std::set<std::string> beginnings;
    const std::regex dotted("\"([a-z][a-z0-9_]*)\\.[a-z0-9_.]+\"");
    for (const ProjectFile& file : files_below({"assets/protocols", "assets/limits"}, {".json"})) {
        for (std::sregex_iterator it(file.text.begin(), file.text.end(), dotted), end; it != end; ++it) {
            beginnings.insert((*it)[1]);
        }
    }
    return beginnings;
}

struct Asked {
    std::string file, key;
    bool surely; // handed to say() or Phrase: a text whatever it looks like
};

std::vector<Asked> asked_by(const ProjectFile& file) {
    std::vector<Asked> asked;
    const std::regex literal("(say\\(|Phrase\\{)?\"([a-z][a-z0-9_]*(\\.[a-z0-9_]*)+)\"");
    for (const std::string& whole_line : lines_of(file.text)) {
        const std::string line = without_comment(whole_line);
        for (std::sregex_iterator it(line.begin(), line.end(), literal), end; it != end; ++it) {
            asked.push_back({file.path, (*it)[2], (*it)[1].matched});
        }
    }
    return asked;
}

// Does `key` say the literal `asked`, or begin with it: "grade." and "pad.unusual" + "_high" are put together
// at run time.
bool says(const std::string& key, const std::string& asked) {
    if (!key.starts_with(asked)) {
        return false;
    }
    const auto joint = [](char c) { return c == '.' || c == '_'; };
    return key.size() == asked.size() || joint(asked.back()) || joint(key[asked.size()]);
}

bool answers(const Texts& texts, const std::string& asked) {
    return std::any_of(texts.begin(), texts.end(), [&](const auto& text) { return says(text.first, asked); });
}

std::vector<std::string> missing_texts(const std::vector<Asked>& asked, const Texts& texts,
                                       const std::set<std::string>& data) {
    std::set<std::string> sure = kBeginnings;
    std::set<std::string> pairs;
    for (const auto& [key, text] : texts) {
        if (!data.contains(first_part(key))) {
            sure.insert(first_part(key));
        }
        pairs.insert(first_two_parts(key));
    }
    std::vector<std::string> missing;
    for (const Asked& a : asked) {
        const std::string two = first_two_parts(a.key);
        const bool is_text =
            a.surely || sure.contains(first_part(a.key)) || (!two.empty() && pairs.contains(two));
        if (is_text && !answers(texts, a.key)) {
            missing.push_back(a.file + ": no text for " + a.key);
        }
    }
    return missing;
}

std::vector<Asked> all_asked() {
    std::vector<Asked> all;
    for (const ProjectFile& file : files_below({"checklist", "sync", "ui", "demo"}, {".cpp", ".hpp"})) {
        const auto here = asked_by(file);
        all.insert(all.end(), here.begin(), here.end());
    }
    return all;
}

std::map<std::string, crossarm::model::Words> languages() {
    std::map<std::string, crossarm::model::Words> all;
    for (const ProjectFile& file : files_below({"assets/words"}, {".json"})) {
        const std::string language = std::filesystem::path(file.path).parent_path().filename().string();
        const auto added = all[language].add(file.text, file.path);
        INFO((added ? "" : to_text(added.problem())));
        CHECK(added.ok());
    }
    return all;
}

} // namespace

TEST_CASE("every text that the code asks for is there in every language") {
    const auto all = languages();
    REQUIRE(all.contains("en"));
    for (const auto& [language, words] : all) {
        const auto missing = missing_texts(all_asked(), words.texts(), data_beginnings());
        INFO(language << ":\n" << joined(missing));
        CHECK(missing.empty());
        CHECK(words.keys() == all.at("en").keys());
    }
}

TEST_CASE("no text lies unused") {
    const auto asked = all_asked();
    const auto all = languages();
    std::vector<std::string> unused;
    for (const auto& [key, text] : all.at("en").texts()) {
        const bool used =
            std::any_of(asked.begin(), asked.end(), [&k = key](const Asked& a) { return says(k, a.key); });
        if (!used) {
            unused.push_back(key);
        }
    }
    INFO(joined(unused));
    CHECK(unused.empty());
}

TEST_CASE("every place in a text is closed and named in lower case") {
    const std::regex place("\\{[a-z][a-z0-9_]*\\}");
    const auto all = languages();
    for (const auto& [language, words] : all) {
        for (const auto& [key, text] : words.texts()) {
            const std::string rest = std::regex_replace(text, place, "");
            INFO(language << ": " << key << ": " << text);
            CHECK(rest.find_first_of("{}") == std::string::npos);
            CHECK_FALSE(text.empty());
        }
    }
}

TEST_CASE("a planted missing text is found") {
    const Texts texts = {
        {"bushings.because.none", "Whole."}, {"grade.sound", "Sound"}, {"round.title", "Round"}};
    const std::set<std::string> data = {"bushings", "oil"};
    const auto missing = [&](const std::string& line) {
        return missing_texts(asked_by({"a.cpp", line + "\n"}), texts, data).size();
    };
    CHECK(missing("return Phrase{\"oil.nothing\", {}};") == 1);
    CHECK(missing("words.say(\"oil.nothing\");") == 1);
    CHECK(missing("refuse(\"refused.nothing\");") == 1);
    CHECK(missing("title(\"round.nothing\");") == 1);
    CHECK(missing("f(\"bushings.because.\" + name);") == 0);
    CHECK(missing("f(\"bushings.because.burst\");") == 1);
    CHECK(missing("reading(\"oil.breakdown\");") == 0);
    CHECK(missing("words.say(\"grade.sound\");") == 0);
}
