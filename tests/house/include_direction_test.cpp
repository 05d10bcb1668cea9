// The arrows of the house: which room may include which, and what must not be named in a room.
#include "tests/house/project_files.hpp"
#include "tests/support/catch.hpp"

#include <map>
#include <set>

using namespace crossarm::house;

namespace {

// Room -> the rooms it may include besides itself. Dependencies point one way: ui -> sync -> checklist.
const std::map<std::string, std::set<std::string>> kArrows = {
    {"checklist/model", {}},
    {"checklist/rules", {"checklist/model"}},
    {"checklist/visit", {"checklist/rules", "checklist/model"}},
    {"checklist/store", {"checklist/model"}},
    {"sync/seal", {"checklist/model"}},
    {"sync/bundle", {"sync/seal", "checklist/visit", "checklist/rules", "checklist/model"}},
    {"sync/office",
     {"sync/bundle", "sync/seal", "checklist/store", "checklist/visit", "checklist/rules",
      "checklist/model"}},
    {"ui/look", {"checklist/model"}},
    {"ui/touch", {"ui/look", "checklist/model"}},
    {"ui/drawing", {"ui/touch", "ui/look", "checklist/model"}},
    {"ui/screens",
     {"ui/drawing", "ui/touch", "ui/look", "sync/bundle", "sync/seal", "checklist/store", "checklist/visit",
      "checklist/rules", "checklist/model"}},
    // The office's screens live in the same program; only their face asks the office's studies.
    {"ui/app",
     {"ui/screens", "ui/drawing", "ui/touch", "ui/look", "sync/office", "sync/bundle", "sync/seal",
      "checklist/store", "checklist/visit", "checklist/rules", "checklist/model"}},
};

// Words that must not stand in the code of files whose path begins so; comments may name them.
struct Forbidden {
    std::string below;
    std::vector<std::string> words;
    std::string but_in; // the one file that may
};
const std::vector<std::string> kPure = {"imgui",        "GLFW",         "system_clock",  "steady_clock",
                                        "sqlite3.h",    "<fstream>",    "random_device", "std::filesystem",
                                        "<filesystem>", "std::time(",   "getenv",        "std::rand",
                                        "<iostream>",   "std::locale(", "std::stod",     "to_string(double"};
const std::vector<Forbidden> kForbidden = {
    {"checklist/model/", kPure, ""},
    {"checklist/rules/", kPure, ""},
    {"checklist/visit/", kPure, ""},
    {"checklist/store/", {"imgui", "GLFW"}, ""},
    {"sync/", {"imgui", "GLFW"}, ""},
    {"sync/bundle/", {"sqlite3.h"}, ""},
    {"ui/", {"GLFW", "glfw", "<GL/", "imgui_impl_"}, "ui/app/window.cpp"},
    {"ui/screens/", {"sqlite3.h", "system_clock", "steady_clock", "<fstream>"}, ""},
    {"ui/", {"ImGui::Button(", "ImGui::SmallButton(", "ImGui::InvisibleButton(", "IsItemHovered"}, ""},
    {"demo/", {"ImGui::Button(", "GLFW"}, ""},
};

std::string room_of(const std::string& path) {
    const std::size_t slash = path.find('/', path.find('/') + 1);
    return slash == std::string::npos ? "" : path.substr(0, slash);
}

std::vector<std::string> wrong_arrows(const ProjectFile& file) {
    std::vector<std::string> complaints;
    const auto from = kArrows.find(room_of(file.path));
    if (from == kArrows.end()) {
        return {file.path + ": this folder is no room of the table"};
    }
    const std::string opening = "#include \"";
    for (const std::string& line : lines_of(file.text)) {
        if (!line.starts_with(opening)) {
            continue;
        }
        const std::string included = line.substr(opening.size(), line.rfind('"') - opening.size());
        const std::string to = room_of(included);
        if (to != from->first && !from->second.contains(to)) {
            complaints.push_back(file.path + ": " + from->first + " must not include " + included);
        }
    }
    return complaints;
}

std::vector<std::string> forbidden_words(const ProjectFile& file) {
    std::vector<std::string> complaints;
    for (const Forbidden& rule : kForbidden) {
        if (!file.path.starts_with(rule.below) || file.path == rule.but_in) {
            continue;
        }
        for (const std::string& line : lines_of(file.text)) {
            for (const std::string& word : rule.words) {
                if (without_comment(line).find(word) != std::string::npos) {
                    complaints.push_back(file.path + ": must not name " + word);
                }
            }
        }
    }
    return complaints;
}

} // namespace

TEST_CASE("every include follows the arrows of the house") {
    const auto files = files_below({"checklist", "sync", "ui"}, {".hpp", ".cpp"});
    REQUIRE(files.size() > 20);
    for (const ProjectFile& file : files) {
        INFO(joined(wrong_arrows(file)));
        CHECK(wrong_arrows(file).empty());
    }
}

// So a header compiles alone without being compiled alone.
TEST_CASE("a source file with a header of its own includes that first") {
    std::set<std::string> paths;
    const auto files = files_below({"checklist", "sync", "ui"}, {".hpp", ".cpp"});
    for (const ProjectFile& file : files) {
        paths.insert(file.path);
    }
    for (const ProjectFile& file : files) {
        const std::string header = file.path.substr(0, file.path.size() - 3) + "hpp";
        if (file.path.ends_with(".cpp") && paths.contains(header)) {
            INFO(file.path);
            const std::size_t first = file.text.find("#include ");
            REQUIRE(first != std::string::npos);
            CHECK(file.text.compare(first, 11 + header.size(), "#include \"" + header + "\"") == 0);
        }
    }
}

TEST_CASE("no room names what does not belong in it") {
    for (const ProjectFile& file : files_below({"checklist", "sync", "ui", "demo"}, {".hpp", ".cpp"})) {
        INFO(joined(forbidden_words(file)));
        CHECK(forbidden_words(file).empty());
    }
}

TEST_CASE("a planted wrong arrow and a planted word are found") {
    struct Case {
        std::string path, line;
        std::size_t complaints;
    };
    const std::vector<Case> cases = {
        {"checklist/model/ids.cpp", "#include \"checklist/rules/oil.hpp\"", 1},
        {"checklist/rules/oil.cpp", "#include \"checklist/store/database.hpp\"", 1},
        {"checklist/store/journal.cpp", "#include \"checklist/visit/state.hpp\"", 1},
        {"sync/seal/frame.cpp", "#include \"ui/look/theme.hpp\"", 1},
        {"ui/touch/button.cpp", "#include \"ui/screens/round.hpp\"", 1},
        {"ui/screens/round.cpp", "#include \"ui/app/window.hpp\"", 1},
        {"ui/screens/study_one.cpp", "#include \"sync/office/study_desk.hpp\"", 1},
        {"ui/extra/thing.cpp", "#include <vector>", 1},
        {"ui/screens/round.cpp", "#include \"checklist/model/ids.hpp\"", 0},
        {"checklist/visit/fold.cpp", "#include \"checklist/visit/state.hpp\"", 0},
        {"checklist/visit/fold.cpp", "auto now = std::chrono::system_clock::now();", 1},
        {"checklist/visit/fold.cpp", "// never asks system_clock", 0},
        {"ui/screens/round.cpp", "if (ImGui::Button(\"x\")) {", 1},
        {"ui/app/pacer.cpp", "#include <GLFW/glfw3.h>", 2},
        {"ui/app/window.cpp", "#include <GLFW/glfw3.h>", 0},
    };
    for (const Case& c : cases) {
        const ProjectFile planted{c.path, c.line + "\n"};
        INFO(c.path << ": " << c.line);
        CHECK(wrong_arrows(planted).size() + forbidden_words(planted).size() == c.complaints);
    }
}
