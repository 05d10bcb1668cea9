// What a visit is now: the fold of its entries.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/protocol.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/verdict.hpp"

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace crossarm::visit {

/// The answer that stands at a checkpoint.
struct Answer {
    model::Id entry;
    model::Timestamp at;
    std::string by;
    std::string device;
    std::int64_t seq = 0; ///< of its entry on that device
    model::Finding finding;
    bool operator==(const Answer&) const = default;
};

/// Two tablets recorded the same checkpoint differently and neither corrects the other: both are kept.
struct Conflict {
    std::string checkpoint;
    std::vector<Answer> answers;
    bool operator==(const Conflict&) const = default;
};

struct Decision {
    model::Id entry; ///< the finding it is about
    std::string checkpoint;
    std::string decision;
    std::string reason;
    std::string by;
    bool operator==(const Decision&) const = default;
};

struct Signature {
    std::string by;
    model::Timestamp at;
    std::string head;
    std::string words;
    bool operator==(const Signature&) const = default;
};

struct State {
    std::optional<model::Id> visit; ///< nothing before the first entry
    std::string structure;
    std::string protocol;
    std::int64_t day_pack = 0;
    model::Timestamp opened_at;
    model::Timestamp last_at;
    std::string opened_by;
    std::map<std::string, Answer> answers; ///< by checkpoint id
    std::set<std::string> finished;        ///< stages said to be finished
    std::set<std::string> begun; ///< stages in which anything was ever recorded, also when taken back
    std::vector<Decision> decisions;
    std::optional<Signature> signature;
    /// Last answer that stopped a chain, and was not taken back: chain -> device -> sequence of its entry.
    std::map<std::string, std::map<std::string, std::int64_t>> stopped_chains;
    std::string broken_off;      ///< the reason, when the visit was broken off
    std::set<std::string> doers; ///< everyone who recorded a finding or finished a stage
    std::vector<Conflict> conflicts;
    std::vector<model::Id> undoable; ///< findings in order of recording, for undo: the last first undone
    std::size_t left_out = 0;        ///< entries of kinds this version does not know
    std::size_t entries = 0;
    bool operator==(const State&) const = default;
};

/// Replays entries into a state. Pure; the same set of entries gives the same state in whatever order they
/// are passed: they are put in order by device and sequence, then by id, never by clock.
/// Entries of another visit than the first one's are our bug and stop.
[[nodiscard]] State fold(const model::Protocol& protocol, const std::vector<model::Entry>& entries);

/// The answer that stands at a checkpoint; null when nothing was recorded there.
[[nodiscard]] const Answer* answer_at(const State& state, const std::string& checkpoint);
/// The number at a checkpoint; nothing when there is no answer or the answer is no single number.
[[nodiscard]] std::optional<double> number_at(const State& state, const std::string& checkpoint);
/// The option that a Choice answer picked, when the checkpoint has such a choice; null otherwise.
[[nodiscard]] const model::Option* picked_option(const model::Checkpoint& checkpoint, const Answer& answer);

/// True when the checkpoint is asked at this structure, given the answers so far.
[[nodiscard]] bool is_asked(const model::Checkpoint& checkpoint, const model::Structure& structure,
                            const State& state);

/// What the band across the top must say.
struct Band {
    bool permit_in_force = false; ///< false: TREAT AS LIVE
    std::string permit;           ///< its number
    std::string holder;
    int earths_on = 0;
    bool operator==(const Band&) const = default;
};
/// The permit is in force only when it is accepted, at least one earth is recorded on, the permit stage is
/// finished without an answer that stops it, and it was not handed back.
[[nodiscard]] Band band(const model::Protocol& protocol, const model::Structure& structure,
                        const State& state);

/// Something that keeps a stage or the visit from being finished, and where to mend it.
struct Missing {
    std::string checkpoint; ///< empty when it is not about one
    model::Phrase why;
    bool operator==(const Missing&) const = default;
};
/// What keeps `stage` from being finished, in the order of the protocol; empty when nothing does.
[[nodiscard]] std::vector<Missing> missing_for_stage(const model::Protocol& protocol,
                                                     const model::Structure& structure, const State& state,
                                                     std::string_view stage);
/// True when anything was ever recorded in the permit stage, also when it was taken back: points may be open,
/// earths on, a permit out. From then on the visit ends only through Restore, also when it is broken off.
[[nodiscard]] bool has_begun_isolating(const model::Protocol& protocol, const State& state);
/// The first stage that is not both finished and complete; stages.size() when all are.
[[nodiscard]] std::size_t current_stage(const model::Protocol& protocol, const model::Structure& structure,
                                        const State& state);
/// Why a checkpoint cannot be recorded now (stage order, a step before it, the permit); nothing when it can.
[[nodiscard]] std::optional<Missing> locked(const model::Protocol& protocol,
                                            const model::Structure& structure, const State& state,
                                            const std::string& checkpoint);

} // namespace crossarm::visit
