#include "sync/office/intake.hpp"

#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/sealed_json.hpp"
#include "sync/office/held_back.hpp"

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

namespace crossarm::office {

namespace {

namespace fs = std::filesystem;
using model::Problem;
using model::Result;

Result<std::vector<std::string>> names_in(const std::string& folder) {
    std::vector<std::string> names;
    std::error_code failed;
    for (fs::directory_iterator at(folder, failed), end; !failed && at != end; at.increment(failed)) {
        if (at->path().extension() == ".json") {
            names.push_back(at->path().filename().string());
        }
    }
    if (failed) {
        return Problem{folder, "cannot be read: " + failed.message(),
                       "name the folder that holds the bundles"};
    }
    std::ranges::sort(names);
    return names;
}

Result<Line> hold_back(const HeldBack& held, Line line, const std::string* bytes, const Problem& why) {
    line.kind = Line::Kind::HeldBack;
    line.why = why;
    if (bytes != nullptr) {
        auto copy = held.keep(*bytes, line.file, why);
        if (!copy) {
            return copy.problem();
        }
        line.copy = std::move(copy).value();
    }
    return line;
}

Result<Line> take_one(OfficeStore& store, const HeldBack& held, const std::string& folder,
                      const std::string& name, model::Timestamp now) {
    Line line;
    line.file = name;
    const auto bytes = bundle::read_whole(folder + "/" + name, bundle::kMostFileBytes);
    if (!bytes) {
        return hold_back(held, std::move(line), nullptr, bytes.problem());
    }
    const auto read = bundle::read_bundle(*bytes, name);
    if (!read) {
        return hold_back(held, std::move(line), &bytes.value(), read.problem());
    }
    line.digest = read->digest;
    line.visit = model::to_text(read->bundle.visit);
    line.structure = read->bundle.structure.id;
    line.device = read->bundle.device;
    line.seq = read->bundle.seq;
    const auto taking = store.take(*read, *bytes, now);
    if (!taking) {
        return taking.problem();
    }
    if (taking->kind == Taking::Kind::Refused) {
        return hold_back(held, std::move(line), &bytes.value(), taking->why);
    }
    line.kind = taking->kind == Taking::Kind::Taken ? Line::Kind::Taken : Line::Kind::AlreadyHere;
    if (auto released = held.release(*bytes); !released) {
        return released.problem();
    }
    return line;
}

} // namespace

std::size_t Intake::count(Line::Kind kind) const {
    return static_cast<std::size_t>(std::ranges::count(lines, kind, &Line::kind));
}

Result<Intake> take_in(OfficeStore& store, const std::string& folder, model::Timestamp now) {
    const auto names = names_in(folder);
    if (!names) {
        return names.problem();
    }
    const HeldBack held(store.path());
    Intake intake;
    for (const std::string& name : *names) {
        auto line = take_one(store, held, folder, name, now);
        if (!line) {
            return line.problem();
        }
        intake.lines.push_back(std::move(line).value());
    }
    const auto bundles = store.bundles();
    if (!bundles) {
        return bundles.problem();
    }
    intake.sequence = check_sequence(*bundles);
    return intake;
}

} // namespace crossarm::office
