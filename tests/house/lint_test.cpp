// What every text file keeps: its last newline, no trailing blanks, no tabs, nothing left over, no false
// promise.
#include "tests/house/project_files.hpp"
#include "tests/support/catch.hpp"

#include <cctype>

using namespace crossarm::house;

namespace {

// A line left for later, spelled in two halves so that this file does not find itself.
const std::string kLater = "TO";
const std::vector<std::string> kLeftOver = {kLater + "DO", "FIX" + std::string("ME"), std::string(7, '<'),
                                            std::string(7, '>')};

// What the program never tells a person: only a test with a detector and the people in charge can say it.
const std::vector<std::string> kPromises = {
    "is safe to", "are safe to", "safe to touch",  "safe to climb", "safe to work",
    "now safe",   "it is dead",  "is now dead",    "line is dead",  "no danger now",
    "guaranteed", "all clear",   "supply is dead", "made safe"};

// "not safe to climb", "until it is dead and earthed", "while the line is dead": a warning or a condition.
bool is_conditional(const std::string& line, std::size_t at) {
    const std::size_t back = std::min<std::size_t>(at, 16);
    const std::string before = line.substr(at - back, back);
    const std::vector<std::string> words = {"not ",    "never ", "while ", "until ",
                                            "unless ", "when ",  "if ",    "whether "};
    return std::any_of(words.begin(), words.end(),
                       [&](const std::string& word) { return before.find(word) != std::string::npos; });
}

std::vector<std::string> lint(const ProjectFile& file) {
    std::vector<std::string> complaints;
    const auto complain = [&](std::size_t line, const std::string& what) {
        complaints.push_back(file.path + ":" + std::to_string(line) + ": " + what);
    };
    if (!file.text.empty() && file.text.back() != '\n') {
        complain(0, "no newline at the end");
    }
    std::size_t number = 0;
    for (const std::string& line : lines_of(file.text)) {
        ++number;
        if (!line.empty() && std::isspace(static_cast<unsigned char>(line.back())) != 0) {
            complain(number, "blank at the end of the line");
        }
        if (line.find('\t') != std::string::npos) {
            complain(number, "tab");
        }
        for (const std::string& word : kLeftOver) {
            if (line.find(word) != std::string::npos) {
                complain(number, word);
            }
        }
    }
    return complaints;
}

std::vector<std::string> promises(const ProjectFile& file) {
    std::vector<std::string> complaints;
    for (std::string line : lines_of(file.text)) {
        for (char& c : line) {
            c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        }
        for (const std::string& promise : kPromises) {
            const std::size_t at = line.find(promise);
            if (at != std::string::npos && !is_conditional(line, at)) {
                complaints.push_back(file.path + ": promises \"" + promise + "\": " + line);
            }
        }
    }
    return complaints;
}

} // namespace

TEST_CASE("every text file is tidy") {
    const auto files =
        files_below({"checklist", "sync", "ui", "demo", "tests", "assets", ".ci"},
                    {".hpp", ".cpp", ".txt", ".json", ".csv", ".md", "/run", "/install", "/packages"});
    REQUIRE(files.size() > 30);
    for (const ProjectFile& file : files) {
        INFO(joined(lint(file)));
        CHECK(lint(file).empty());
    }
}

TEST_CASE("no text promises that something is dead or without danger") {
    for (const ProjectFile& file : files_below({"assets/words", "assets/protocols"}, {".json"})) {
        INFO(joined(promises(file)));
        CHECK(promises(file).empty());
    }
}

TEST_CASE("a planted untidy line and a planted promise are found") {
    CHECK(lint({"a.cpp", "int x; \n"}).size() == 1);
    CHECK(lint({"a.cpp", "\tint x;\n"}).size() == 1);
    CHECK(lint({"a.cpp", "int x;"}).size() == 1);
    CHECK(lint({"a.cpp", "int x;\r\n"}).size() == 1);
    CHECK(lint({"a.cpp", "// " + kLeftOver[0] + " later\n"}).size() == 1);
    CHECK(lint({"a.cpp", "int x;\n"}).empty());
    CHECK(promises({"a.json", "\"k\": \"The line is dead.\"\n"}).size() == 1);
    CHECK(promises({"a.json", "\"k\": \"The pole is safe to climb.\"\n"}).size() == 2);
    CHECK(promises({"a.json", "\"k\": \"A fallen line is never safe to touch.\"\n"}).empty());
    CHECK(promises({"a.json", "\"k\": \"Trim while the line is dead and earthed.\"\n"}).empty());
}
