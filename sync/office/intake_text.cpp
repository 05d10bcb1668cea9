#include "sync/office/intake_text.hpp"

#include "checklist/model/canonical.hpp"
#include "sync/bundle/utf8.hpp"

#include <nlohmann/json.hpp>

namespace crossarm::office {

namespace {

using bundle::printable;
using Json = nlohmann::json;

const char* word(Line::Kind kind) {
    switch (kind) {
    case Line::Kind::Taken:
        return "taken";
    case Line::Kind::AlreadyHere:
        return "already here";
    case Line::Kind::HeldBack:
        break;
    }
    return "held back";
}

std::string about(const Line& line) {
    return ": " + line.structure + ", visit " + line.visit + ", bundle " + std::to_string(line.seq) +
           " of tablet " + line.device;
}

const char* word(ClockNote::Kind kind) {
    switch (kind) {
    case ClockNote::Kind::Future:
        return "future";
    case ClockNote::Kind::Back:
        return "back";
    case ClockNote::Kind::LongAgo:
        break;
    }
    return "long ago";
}

/// "3 days", "5 h", "20 min"
std::string for_people(std::int64_t min) {
    constexpr std::int64_t kHour = 60;
    constexpr std::int64_t kDay = 24 * kHour;
    return min >= 2 * kDay    ? std::to_string(min / kDay) + " days"
           : min >= 2 * kHour ? std::to_string(min / kHour) + " h"
                              : std::to_string(min) + " min";
}

std::string about(const ClockNote& note) {
    const std::string entry = "entry " + std::to_string(note.seq) + " of tablet " + note.device;
    const std::string by = for_people(note.by_min);
    const std::string at = " (" + model::to_text(note.at) + ")";
    switch (note.kind) {
    case ClockNote::Kind::Future:
        return entry + " was recorded " + by + " after the office's clock" + at +
               ": set the clock that is wrong";
    case ClockNote::Kind::Back:
        return "the clock went back by " + by + " before " + entry + at + ": ask whether it was set";
    case ClockNote::Kind::LongAgo:
        break;
    }
    return "the newest, " + entry + ", is " + by + " old" + at +
           ": ask whether the clock was right, or where the bundle has been";
}

Json json_of(const Line& line) {
    Json out = {{"file", printable(line.file)}, {"outcome", word(line.kind)}};
    if (!line.digest.empty()) {
        out["digest"] = line.digest;
        out["visit"] = line.visit;
        out["structure"] = line.structure;
        out["device"] = line.device;
        out["seq"] = line.seq;
    }
    for (const ClockNote& note : line.clocks) {
        out["clocks"].push_back({{"kind", word(note.kind)},
                                 {"device", note.device},
                                 {"seq", note.seq},
                                 {"at", model::to_text(note.at)},
                                 {"minutes", note.by_min}});
    }
    if (line.why) {
        out["step"] = line.step;
        out["where"] = printable(line.why->where);
        out["what"] = printable(line.why->what);
        out["remedy"] = printable(line.why->remedy);
        out["copy"] = printable(line.copy);
    }
    return out;
}

} // namespace

std::string line_text(const Line& line) {
    std::string out;
    out += std::string(word(line.kind)) + "  " + printable(line.file);
    if (line.why) {
        out += "\n    " + printable(model::to_text(*line.why));
        out += line.copy.empty() ? "" : "\n    kept as " + printable(line.copy);
    } else {
        out += about(line);
    }
    out += '\n';
    for (const ClockNote& note : line.clocks) {
        out += "    clock: " + printable(about(note)) + '\n';
    }
    return out;
}

std::string intake_text(const Intake& intake) {
    std::string out;
    for (const Line& line : intake.lines) {
        out += line_text(line);
    }
    for (const Gap& gap : intake.sequence.gaps) {
        out += "gap  bundle " + std::to_string(gap.seq) + " of tablet " + gap.device + " is missing (" +
               gap.digest.substr(0, 8) + "): ask for it\n";
    }
    for (const Fork& fork : intake.sequence.forks) {
        out += "fork  tablet " + fork.device + " has given number " + std::to_string(fork.seq) + " to " +
               std::to_string(fork.digests.size()) +
               " bundles; all are kept: find out whether it was put back from " + "a backup\n";
    }
    return out + summary_text(intake);
}

std::string summary_text(const Intake& intake) {
    return std::to_string(intake.count(Line::Kind::Taken)) + " taken, " +
           std::to_string(intake.count(Line::Kind::AlreadyHere)) + " already here, " +
           std::to_string(intake.count(Line::Kind::HeldBack)) + " held back, " +
           std::to_string(intake.sequence.gaps.size()) + " gaps, " +
           std::to_string(intake.sequence.forks.size()) + " forks\n";
}

std::string intake_json(const Intake& intake) {
    Json files = Json::array();
    for (const Line& line : intake.lines) {
        files.push_back(json_of(line));
    }
    Json gaps = Json::array();
    for (const Gap& gap : intake.sequence.gaps) {
        gaps.push_back(
            {{"device", gap.device}, {"life", gap.life}, {"seq", gap.seq}, {"digest", gap.digest}});
    }
    Json forks = Json::array();
    for (const Fork& fork : intake.sequence.forks) {
        forks.push_back(
            {{"device", fork.device}, {"life", fork.life}, {"seq", fork.seq}, {"digests", fork.digests}});
    }
    const Json out = {{"taken", intake.count(Line::Kind::Taken)},
                      {"alreadyHere", intake.count(Line::Kind::AlreadyHere)},
                      {"heldBack", intake.count(Line::Kind::HeldBack)},
                      {"files", std::move(files)},
                      {"gaps", std::move(gaps)},
                      {"forks", std::move(forks)}};
    return model::canonical(out) + '\n';
}

} // namespace crossarm::office
