#include "sync/bundle/hand_over.hpp"

#include "sync/bundle/atomic_file.hpp"

#include <filesystem>
#include <system_error>

namespace crossarm::bundle {

namespace {

using model::Done;
using model::Problem;

bool is_there(const std::string& path, const std::string& bytes) {
    std::error_code failed;
    if (std::filesystem::file_size(path, failed) != bytes.size() || failed) {
        return false;
    }
    const auto found = read_whole(path, bytes.size());
    return found && *found == bytes;
}

Done check_folder(const std::string& folder) {
    std::error_code failed;
    if (!std::filesystem::is_directory(folder, failed)) {
        return Problem{folder, "the folder is not there",
                       "put the stick in and wait until it is ready, or choose another folder"};
    }
    return {};
}

} // namespace

std::string file_name(const Outgoing& bundle) {
    constexpr std::size_t kShown = 8;
    return bundle.device + "-" + std::to_string(bundle.life) + "-" + std::to_string(bundle.seq) + "-" +
           bundle.digest.substr(0, kShown) + ".json";
}

HandedOver hand_over(const std::vector<Outgoing>& bundles, const std::string& folder,
                     const std::function<Done(const Outgoing&, const std::string& path)>& arrived) {
    HandedOver out;
    out.left = bundles.size();
    if (auto there = check_folder(folder); !there) {
        out.stopped = there.problem();
        return out;
    }
    for (const Outgoing& bundle : bundles) {
        const auto bytes = bundle.bytes();
        if (!bytes) {
            out.stopped = bytes.problem();
            return out;
        }
        const std::string path = folder + "/" + file_name(bundle);
        const bool was_there = is_there(path, *bytes);
        if (!was_there) {
            if (auto written = write_atomically(path, *bytes); !written) {
                out.stopped = written.problem();
                return out;
            }
        }
        if (auto told = arrived(bundle, path); !told) {
            out.stopped = told.problem();
            return out;
        }
        (was_there ? out.there_already : out.written) += 1;
        out.left -= 1;
    }
    return out;
}

Done hand_over_in_one(const std::vector<Outgoing>& bundles, const std::string& path) {
    auto next = bundles.begin();
    return write_atomically(path, [&]() -> model::Result<std::string> {
        if (next == bundles.end()) {
            return std::string();
        }
        auto bytes = (next++)->bytes();
        if (!bytes) {
            return bytes.problem();
        }
        return std::move(bytes).value() + "\n";
    });
}

} // namespace crossarm::bundle
