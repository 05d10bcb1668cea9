#include "sync/bundle/assets.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/json_reader.hpp"
#include "sync/bundle/atomic_file.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <system_error>
#include <utility>
#include <vector>

namespace crossarm::bundle {

namespace {

namespace fs = std::filesystem;
using model::Problem;
using model::Result;

constexpr std::size_t kMostAssetBytes = 8U * 1024U * 1024U;

bool is_assets(const fs::path& folder) {
    std::error_code ignored;
    return fs::is_directory(folder / "words", ignored);
}

struct Asset {
    std::string path;
    std::string text;
};

Result<std::vector<Asset>> read_json_files(const fs::path& folder) {
    std::vector<std::string> paths;
    std::error_code failed;
    for (fs::directory_iterator at(folder, failed), end; !failed && at != end; at.increment(failed)) {
        if (at->path().extension() == ".json") {
            paths.push_back(at->path().string());
        }
    }
    if (failed || paths.empty()) {
        return Problem{folder.string(),
                       failed ? "cannot be read: " + failed.message() : "holds no .json file",
                       "put the program's assets folder back"};
    }
    std::ranges::sort(paths);
    std::vector<Asset> files;
    for (std::string& path : paths) {
        auto text = read_whole(path, kMostAssetBytes);
        if (!text) {
            return text.problem();
        }
        files.push_back({std::move(path), std::move(text).value()});
    }
    return files;
}

// Which set speaks where several could: what the utility says in its day pack comes before it.
model::Done choose(model::LimitLibrary& library, const std::string& path) {
    const auto text = read_whole(path, kMostAssetBytes);
    if (!text) {
        return text.problem();
    }
    const auto json = model::parse_json(*text, path);
    if (!json) {
        return json.problem();
    }
    const model::JsonReader reader(*json, path + ": ");
    for (const auto& [subject, ignored] : json->items()) {
        const std::string id = reader.text(subject.c_str());
        const model::LimitSet* set = library.by_id(id);
        if (set == nullptr || set->subject != subject) {
            reader.wrong(subject.c_str(), "no limit set for this subject has the id \"" + id + "\"",
                         "name a set of limits/ that is made for it");
        }
        library.chosen.emplace_back(subject, id);
    }
    return reader.failed() ? model::Done(reader.problem()) : model::Done();
}

} // namespace

Result<std::string> assets_dir() {
    std::error_code failed;
    std::vector<fs::path> places;
    if (const char* named = std::getenv("CROSSARM_ASSETS"); named != nullptr && *named != '\0') {
        places.emplace_back(named);
    } else {
        const fs::path program = fs::read_symlink("/proc/self/exe", failed);
        if (!failed) {
            places.push_back(program.parent_path() / "assets");
        }
        places.push_back(fs::path(CROSSARM_SOURCE_DIR) / "assets");
    }
    std::string looked;
    for (const fs::path& place : places) {
        if (is_assets(place)) {
            return place.string();
        }
        looked += (looked.empty() ? "" : ", ") + place.string();
    }
    return Problem{
        looked, "no assets folder is here",
        "set CROSSARM_ASSETS to the folder that holds words, limits and protocols, or put a folder "
        "named assets beside the program"};
}

Result<model::Words> load_words(const std::string& assets, std::string_view language) {
    auto files = read_json_files(fs::path(assets) / "words" / language);
    if (!files) {
        return files.problem();
    }
    model::Words words;
    for (const Asset& file : *files) {
        if (auto added = words.add(file.text, file.path); !added) {
            return added.problem();
        }
    }
    return words;
}

Result<model::LimitLibrary> load_limits(const std::string& assets) {
    auto files = read_json_files(fs::path(assets) / "limits");
    if (!files) {
        return files.problem();
    }
    model::LimitLibrary library;
    for (const Asset& file : *files) {
        auto set = model::read_limit_set(file.text, file.path);
        if (!set) {
            return set.problem();
        }
        if (library.by_id(set->id) != nullptr) {
            return Problem{file.path + ": /id", "a second limit set has the id \"" + set->id + "\"",
                           "give each limit set its own id"};
        }
        library.sets.push_back(std::move(set).value());
    }
    if (auto chosen = choose(library, (fs::path(assets) / "chosen_limits.json").string()); !chosen) {
        return chosen.problem();
    }
    return library;
}

Result<model::Protocol> load_protocol(const std::string& assets, std::string_view id) {
    const fs::path folder = fs::path(assets) / "protocols";
    auto files = read_json_files(folder);
    if (!files) {
        return files.problem();
    }
    std::string known;
    for (const Asset& file : *files) {
        auto protocol = model::read_protocol(file.text, file.path);
        if (!protocol) {
            return protocol.problem();
        }
        if (protocol->id == id) {
            return protocol;
        }
        known += (known.empty() ? "" : ", ") + protocol->id;
    }
    return Problem{folder.string(), "no protocol has the id \"" + std::string(id) + "\"; known: " + known,
                   "install the edition of the program that brings this protocol"};
}

} // namespace crossarm::bundle
