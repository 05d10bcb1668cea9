// What a visit is now: the fold of its entries.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/protocol.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/verdict.hpp"
#include "checklist/visit/permit.hpp"

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
    permit::State permit; ///< the fold of its acts, in the order of the tablet that prepared it
    std::vector<Decision> decisions;
    std::optional<Signature> signature;
    std::string broken_off; ///< the reason, when the visit was broken off
    /// Everyone who recorded a finding, finished a stage or acted on the permit. Stopping the work and a
    /// lead's decision make nobody a doer.
    std::set<std::string> doers;
    std::vector<Conflict> conflicts;
    /// Findings in order of recording, for undo: the last first undone. What a permit was prepared or issued
    /// on can be corrected but not undone.
    std::vector<model::Id> undoable;
    std::size_t left_out = 0; ///< entries of kinds this version does not know
    std::size_t entries = 0;
    bool operator==(const State&) const = default;
};

/// Replays entries into a state. Pure; the same set of entries gives the same state in whatever order they
/// are passed: they are put in order by device and sequence, then by id, never by clock. An act on the permit
/// that `rules` would have refused counts as irregular, and so does every act of another tablet than the one
/// that prepared it; the latter changes nothing else. Who may do what is not asked again: registers change.
/// Entries of another visit than the first one's are our bug and stop.
[[nodiscard]] State fold(const std::vector<model::Entry>& entries, const permit::Rules& rules = {});

/// The answer that stands at a checkpoint; null when nothing was recorded there.
[[nodiscard]] const Answer* answer_at(const State& state, const std::string& checkpoint);
/// The number at a checkpoint; nothing when there is no answer or the answer is no single number.
[[nodiscard]] std::optional<double> number_at(const State& state, const std::string& checkpoint);
/// The option that a Choice answer picked, when the checkpoint has such a choice; null otherwise.
[[nodiscard]] const model::Option* picked_option(const model::Checkpoint& checkpoint, const Answer& answer);

/// True when the checkpoint is asked at this structure, given the answers so far.
[[nodiscard]] bool is_asked(const model::Checkpoint& checkpoint, const model::Structure& structure,
                            const State& state);

/// What the safe order is asked under, besides the state.
struct Setting {
    const model::Protocol& protocol;
    const model::Structure& structure;
    permit::Rules rules;
    model::Timestamp now;
};

/// What the band across the top must say.
struct Band {
    enum class Kind { TreatAsLive, InForce, InForceWithException };
    Kind kind = Kind::TreatAsLive;
    model::Phrase reason;             ///< why to treat as live; or the exception that a lead decided about
    std::string permit;               ///< its number; empty before one is prepared
    std::vector<std::string> holders; ///< of the parties that work; persons
    int earths_on = 0;
    [[nodiscard]] bool in_force() const { return kind != Kind::TreatAsLive; }
    bool operator==(const Band&) const = default;
};
/// Never better than what is recorded: in force only as permit::in_force says, at that moment.
[[nodiscard]] Band band(const permit::State& state, const permit::Rules& rules, model::Timestamp now);

/// Something that keeps a stage or the visit from being finished, and where to mend it.
struct Missing {
    std::string checkpoint; ///< empty when it is not about one
    model::Phrase why;
    std::string step = {}; ///< step of the permit (permit::Step::id), or "brief"; empty when not about one
    bool operator==(const Missing&) const = default;
};
/// What keeps `stage` from being finished: what is missing of the briefing or the permit, and checkpoints in
/// the order of the protocol; empty when nothing does.
[[nodiscard]] std::vector<Missing> missing_for_stage(const Setting& setting, const State& state,
                                                     std::string_view stage);
/// Those named at the key `crew` who have not been briefed; nothing while nobody is named.
[[nodiscard]] std::optional<std::vector<std::string>> not_briefed(const model::Protocol& protocol,
                                                                  const State& state);
/// Nothing is missing and it is said to be finished. The permit stage is complete once a party has accepted,
/// without being said; the restore stage only when the permit is closed.
[[nodiscard]] bool is_complete(const Setting& setting, const State& state, const std::string& stage);
/// The first stage that is not complete; stages.size() when all are. After breaking off: Restore while the
/// permit has begun and is not put back, then Sign off.
[[nodiscard]] std::size_t current_stage(const Setting& setting, const State& state);
/// Why a checkpoint cannot be recorded now (stage order, a step before it, the briefing, the permit); nothing
/// when it can.
[[nodiscard]] std::optional<Missing> locked(const Setting& setting, const State& state,
                                            const std::string& checkpoint);

} // namespace crossarm::visit
