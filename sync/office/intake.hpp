// Intake: every bundle file of a folder goes into the office store exactly once, or is held back with a
// reason.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "sync/office/office_store.hpp"
#include "sync/office/sequence.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace crossarm::office {

/// What became of one file.
struct Line {
    enum class Kind { Taken, AlreadyHere, HeldBack };
    Kind kind = Kind::HeldBack;
    std::string file; ///< its name in the folder
    // Of a bundle that was read:
    std::string digest;
    std::string visit;
    std::string structure;
    std::string device;
    std::int64_t seq = 0;
    // Of a file that was held back:
    std::optional<model::Problem> why;
    std::string copy; ///< empty when the file could not be read at all
};

struct Intake {
    std::vector<Line> lines; ///< by file name
    Sequence sequence;       ///< of everything in the store, after this intake
    [[nodiscard]] std::size_t count(Line::Kind kind) const;
};

/// Takes in every file of `folder` whose name ends in .json, in order of names. Each ends as taken, already
/// here or held back. Problem when the work could not go on (folder, store or disk); what was taken before
/// stays. Files are left where they are: taking them in again does no harm.
[[nodiscard]] model::Result<Intake> take_in(OfficeStore& store, const std::string& folder,
                                            model::Timestamp now);

} // namespace crossarm::office
