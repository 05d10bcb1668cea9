#include "sync/office/held_back.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/utf8.hpp"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <system_error>

namespace crossarm::office {

namespace {

namespace fs = std::filesystem;
using bundle::printable;
using model::Done;
using model::Problem;

Done check_room(const std::string& folder, std::size_t more) {
    std::uint64_t files = 0;
    std::uint64_t bytes = more;
    std::error_code failed;
    for (fs::directory_iterator at(folder, failed), end; !failed && at != end; at.increment(failed)) {
        std::error_code ignored;
        const auto size = at->file_size(ignored);
        files += 1;
        bytes += ignored ? 0 : size;
    }
    if (failed) {
        return Problem{folder, "cannot be read: " + failed.message(), "check the folder and its permissions"};
    }
    if (files + 2 > kMostHeldFiles || bytes > kMostHeldBytes) {
        return Problem{folder, "holds more files that were held back than anyone can look through",
                       "look at the reasons, move the files away, then take the rest in"};
    }
    return {};
}

} // namespace

HeldBack::HeldBack(const std::string& store_path) : folder_(store_path + ".held-back") {}

model::Result<std::string> HeldBack::keep(std::string_view bytes, const std::string& file,
                                          const Problem& why) const {
    std::error_code failed;
    fs::create_directory(folder_, failed);
    if (failed) {
        return Problem{folder_, "cannot be made: " + failed.message(),
                       "check the folder and its permissions"};
    }
    const std::string stem = folder_ + "/" + model::sha256_hex(bytes);
    const std::string copy = stem + ".json";
    if (!fs::exists(copy, failed)) {
        if (auto room = check_room(folder_, bytes.size()); !room) {
            return room.problem();
        }
        if (auto written = bundle::write_atomically(copy, bytes); !written) {
            return written.problem();
        }
    }
    const nlohmann::json reason = {{"file", printable(file)},
                                   {"where", printable(why.where)},
                                   {"what", printable(why.what)},
                                   {"remedy", printable(why.remedy)}};
    if (auto written = bundle::write_atomically(stem + ".reason.json", model::canonical(reason)); !written) {
        return written.problem();
    }
    return copy;
}

Done HeldBack::release(std::string_view bytes) const {
    const std::string stem = folder_ + "/" + model::sha256_hex(bytes);
    for (const char* tail : {".reason.json", ".json"}) {
        std::error_code failed;
        fs::remove(stem + tail, failed);
        if (failed) {
            return Problem{stem + tail, "cannot be removed: " + failed.message(), "remove it by hand"};
        }
    }
    return {};
}

} // namespace crossarm::office
