#include "sync/office/incoming_folder.hpp"

#include "checklist/model/digest.hpp"
#include "sync/bundle/atomic_file.hpp"

#include <algorithm>
#include <filesystem>
#include <system_error>

namespace crossarm::office {

namespace fs = std::filesystem;
using model::Problem;

bool is_for_intake(std::string_view name) {
    return !name.starts_with('.') && (name.ends_with(".json") || holds_several(name));
}

bool holds_several(std::string_view name) {
    return name.ends_with(".jsonl");
}

model::Result<std::vector<std::string>> names_in(const std::string& folder) {
    std::vector<std::string> names;
    std::error_code failed;
    for (fs::directory_iterator at(folder, failed), end; !failed && at != end; at.increment(failed)) {
        std::string name = at->path().filename().string();
        if (is_for_intake(name)) {
            names.push_back(std::move(name));
        }
    }
    if (failed) {
        return Problem{folder, "cannot be read: " + failed.message(),
                       "name the folder that holds the bundles"};
    }
    std::ranges::sort(names);
    return names;
}

bool move_to_taken(const std::string& folder, const std::string& name) {
    constexpr std::size_t kShown = 16;
    const std::string taken = folder + "/taken";
    const std::string from = folder + "/" + name;
    std::error_code failed;
    fs::create_directory(taken, failed);
    std::string to = taken + "/" + name;
    if (!failed && fs::exists(to, failed)) {
        const auto bytes = bundle::read_whole(from);
        if (!bytes) {
            return false;
        }
        to = taken + "/" + model::sha256_hex(*bytes).substr(0, kShown) + "-" + name;
    }
    if (failed) {
        return false;
    }
    fs::rename(from, to, failed);
    return !failed;
}

} // namespace crossarm::office
