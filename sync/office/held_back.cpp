#include "sync/office/held_back.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "checklist/model/json_reader.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/utf8.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <system_error>

namespace crossarm::office {

namespace {

namespace fs = std::filesystem;
using bundle::printable;
using model::Done;
using model::Problem;

constexpr std::string_view kCopyTail = ".json";
constexpr std::string_view kReasonTail = ".reason.json";
constexpr std::size_t kHashDigits = 64;
constexpr std::size_t kMostReasonBytes = 64U * 1024U;

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

std::string text_of(const Reason& reason) {
    return model::canonical(nlohmann::json{{"file", printable(reason.file)},
                                           {"step", reason.step},
                                           {"where", printable(reason.why.where)},
                                           {"what", printable(reason.why.what)},
                                           {"remedy", printable(reason.why.remedy)},
                                           {"heldAt", model::to_text(reason.held_at)},
                                           {"triedAt", model::to_text(reason.tried_at)}});
}

/// Nothing when there is none, or none that can be read.
std::optional<Reason> read_reason(const std::string& path) {
    const auto bytes = bundle::read_whole(path, kMostReasonBytes);
    if (!bytes) {
        return std::nullopt;
    }
    const auto json = model::parse_json(*bytes, path);
    if (!json) {
        return std::nullopt;
    }
    const model::JsonReader reader(*json, path + ": ");
    Reason reason{reader.text("file"),
                  reader.text("step"),
                  {reader.text("where"), reader.text("what"), reader.text("remedy")},
                  reader.time("heldAt"),
                  reader.time("triedAt")};
    return reader.failed() ? std::nullopt : std::optional(std::move(reason));
}

bool is_copy(const std::string& name) {
    return name.size() == kHashDigits + kCopyTail.size() && name.ends_with(kCopyTail);
}

} // namespace

HeldBack::HeldBack(const std::string& store_path) : folder_(store_path + ".held-back") {}

model::Result<std::string> HeldBack::keep(std::string_view bytes, Reason reason) const {
    std::error_code failed;
    fs::create_directory(folder_, failed);
    if (failed) {
        return Problem{folder_, "cannot be made: " + failed.message(),
                       "check the folder and its permissions"};
    }
    const std::string stem = folder_ + "/" + model::sha256_hex(bytes);
    const std::string copy = stem + std::string(kCopyTail);
    if (!fs::exists(copy, failed)) {
        if (auto room = check_room(folder_, bytes.size()); !room) {
            return room.problem();
        }
        if (auto written = bundle::write_atomically(copy, bytes); !written) {
            return written.problem();
        }
    }
    const std::string reason_path = stem + std::string(kReasonTail);
    if (const auto before = read_reason(reason_path)) {
        reason.held_at = before->held_at;
    }
    if (auto written = bundle::write_atomically(reason_path, text_of(reason)); !written) {
        return written.problem();
    }
    return copy;
}

Done HeldBack::release(std::string_view bytes) const {
    std::error_code failed;
    if (!fs::exists(folder_, failed)) {
        return {};
    }
    const std::string stem = folder_ + "/" + model::sha256_hex(bytes);
    for (const std::string_view tail : {kReasonTail, kCopyTail}) {
        const std::string path = stem + std::string(tail);
        fs::remove(path, failed);
        if (failed) {
            return Problem{path, "cannot be removed: " + failed.message(), "remove it by hand"};
        }
    }
    return {};
}

model::Result<std::vector<HeldFile>> HeldBack::list() const {
    std::vector<HeldFile> held;
    std::error_code failed;
    if (!fs::exists(folder_, failed)) {
        return held;
    }
    for (fs::directory_iterator at(folder_, failed), end; !failed && at != end; at.increment(failed)) {
        const std::string name = at->path().filename().string();
        if (is_copy(name)) {
            held.push_back({at->path().string(), read_reason(folder_ + "/" + name.substr(0, kHashDigits) +
                                                             std::string(kReasonTail))});
        }
    }
    if (failed) {
        return Problem{folder_, "cannot be read: " + failed.message(),
                       "check the folder and its permissions"};
    }
    std::ranges::sort(held, {}, &HeldFile::copy);
    return held;
}

} // namespace crossarm::office
