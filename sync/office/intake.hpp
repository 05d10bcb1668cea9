// Intake: every bundle file of a folder goes into the office store exactly once, or is held back with a
// reason.
//
// The steps, in this order; a file is refused at the first one that it does not pass, under this name:
//   file     regular, not too large, can be read
//   seal     frame, shape of the seal, digest
//   key      the key that sealed it is known and not revoked, and the signature is its own
//   body     bounds of the JSON, canonical text, format
//   shape    members, their types and ranges
//   entries  chain of entries whole, ids unique, signed by someone who is not a doer
//   store    no entry is in the office already with other content
// Taken means: one transaction with the bundle's bytes (read back and compared before the commit) and its
// entries. Only after the commit does the file move to the folder `taken`; a crash between leaves a file that
// is found to be here already the next time.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "sync/office/clock_check.hpp"
#include "sync/office/office_store.hpp"
#include "sync/office/sequence.hpp"

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace crossarm::office {

/// What became of one bundle that was offered.
struct Line {
    enum class Kind { Taken, AlreadyHere, HeldBack };
    Kind kind = Kind::HeldBack;
    std::string file; ///< its name in the folder; "round.jsonl:3" for one of several in one file
    // Of a bundle that was read:
    std::string digest;
    std::string visit;
    std::string structure;
    std::string device;
    std::int64_t seq = 0;
    std::vector<ClockNote> clocks;
    // Of a file that was held back:
    std::optional<model::Problem> why;
    std::string step; ///< as above
    std::string copy; ///< empty when the file could not be read at all
    bool operator==(const Line&) const = default;
};

struct Intake {
    std::vector<Line> lines; ///< by file name
    Sequence sequence;       ///< of everything in the store, after this intake
    [[nodiscard]] std::size_t count(Line::Kind kind) const;
};

/// How to go about it.
struct Manner {
    /// Files that were taken, or were here already, move to the folder `taken` beside them. A folder that
    /// cannot be written to (a stick that is locked) is left as it is: offering a file again does no harm.
    bool move_taken = false;
    /// Called after each file with its last line and how many of how many files are through.
    std::function<void(const Line&, std::size_t done, std::size_t all)> told;
};

/// Takes in every file of `folder` whose name ends in .json (one bundle) or .jsonl (one bundle a line), in
/// order of names; hidden files are left alone. Each bundle ends as taken, already here or held back; one
/// that was held back before is tried again: it costs one reading, and nobody needs to remember it. Problem
/// when the work could not go on (folder, store or disk); what was taken before stays.
[[nodiscard]] model::Result<Intake> take_in(OfficeStore& store, const std::string& folder,
                                            model::Timestamp now, const Manner& manner = {});

/// The same for these files of the folder only.
[[nodiscard]] model::Result<Intake> take_in_files(OfficeStore& store, const std::string& folder,
                                                  const std::vector<std::string>& names, model::Timestamp now,
                                                  const Manner& manner = {});

/// Tries everything again that is held back: after a tablet was enrolled, or a newer version installed.
[[nodiscard]] model::Result<Intake> take_in_again(OfficeStore& store, model::Timestamp now,
                                                  const Manner& manner = {});

} // namespace crossarm::office
