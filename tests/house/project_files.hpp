// The project's own text files, read once, for the tests that look at the house itself.
#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::house {

struct ProjectFile {
    std::string path; ///< from the project's top, "checklist/model/ids.hpp"
    std::string text;
};

inline bool ends_with_one_of(std::string_view text, const std::vector<std::string>& ends) {
    return std::any_of(ends.begin(), ends.end(), [&](const std::string& end) { return text.ends_with(end); });
}

/// Every file below the named folders of the project whose name ends with one of `ends` (all when empty),
/// sorted by path.
inline std::vector<ProjectFile> files_below(const std::vector<std::string>& folders,
                                            const std::vector<std::string>& ends) {
    namespace fs = std::filesystem;
    const fs::path top = CROSSARM_SOURCE_DIR;
    std::vector<ProjectFile> found;
    for (const std::string& folder : folders) {
        if (!fs::exists(top / folder)) {
            continue;
        }
        for (const fs::directory_entry& item : fs::recursive_directory_iterator(top / folder)) {
            const std::string path = fs::relative(item.path(), top).generic_string();
            if (!item.is_regular_file() || (!ends.empty() && !ends_with_one_of(path, ends))) {
                continue;
            }
            std::ifstream file(item.path(), std::ios::binary);
            std::ostringstream text;
            text << file.rdbuf();
            found.push_back({path, text.str()});
        }
    }
    std::sort(found.begin(), found.end(),
              [](const ProjectFile& a, const ProjectFile& b) { return a.path < b.path; });
    return found;
}

inline std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) {
        lines.push_back(line);
    }
    return lines;
}

/// The code of a line without its comment: a // inside a text is taken for one too, which only hides less
/// important things from a house test.
inline std::string without_comment(const std::string& line) {
    return line.substr(0, line.find("//"));
}

/// All complaints, one a line, for a failing test to show.
inline std::string joined(const std::vector<std::string>& complaints) {
    std::string all;
    for (const std::string& complaint : complaints) {
        all += complaint + "\n";
    }
    return all;
}

} // namespace crossarm::house
