// Everything a screen may read.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/protocol.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/words.hpp"
#include "checklist/store/store.hpp"
#include "checklist/visit/assess.hpp"
#include "checklist/visit/decide.hpp"
#include "checklist/visit/fact.hpp"
#include "checklist/visit/permit.hpp"
#include "checklist/visit/state.hpp"
#include "ui/screens/place.hpp"

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace crossarm::ui {

/// How a structure's newest visit stands, for the round.
struct RoundLine {
    std::string structure;
    std::optional<model::Date> due;
    std::string kind = "upkeep"; ///< of the newest visit, or of the one that is due: a protocol's id
    std::string reason;
    std::optional<model::Id> visit; ///< newest visit on this tablet
    bool is_signed = false;
    std::optional<store::HandOver> bundle;
};

/// The permit of the visit at hand, worked out once after every entry.
struct PermitView {
    visit::permit::State state;
    visit::permit::Rules rules;
    visit::permit::Powers powers;
    std::vector<visit::permit::Step> steps;
    std::vector<model::Phrase> time_facts;
    std::string sheet_digest;       ///< SHA-256 of the sheet as it is now
    std::vector<std::string> stale; ///< parties whose signatures stand over another sheet

    [[nodiscard]] const visit::permit::Party* party(std::string_view id) const;
    [[nodiscard]] const visit::permit::Point* point(std::string_view id) const;
    [[nodiscard]] const visit::permit::Earth* earth(std::string_view id) const;
    /// Some party has accepted: its work can be stopped.
    [[nodiscard]] bool works() const;
};
[[nodiscard]] PermitView permit_view(const visit::permit::State& state, const model::Structure& structure,
                                     const model::LimitLibrary& limits, const model::Register& reg,
                                     model::Timestamp now);

/// The visit at hand.
struct AtHand {
    model::Id visit;
    const model::Structure* structure = nullptr; ///< never null
    visit::State state;
    std::vector<visit::Assessed> assessed;
    visit::Band band;
    std::size_t stage = 0; ///< index of the current stage
    std::string head;      ///< hash of the last entry
    // Worked out once after every entry, so that a frame only reads.
    std::vector<visit::Missing> missing; ///< what keeps the current stage from being finished
    std::vector<visit::Missing> missing_for_signing;
    std::vector<std::string> undecided;          ///< checkpoints at Danger that no lead has decided about
    std::map<std::string, visit::Refusal> locks; ///< checkpoints that cannot be recorded now, and why
    std::map<std::string, visit::PartStanding> parts; ///< how each part stands
    bool may_break_off = false;
    int unseen = 0; ///< needed checkpoints of the current stage with nothing recorded
    std::optional<store::OutboxRow> bundle;
    PermitView permit;
    std::vector<visit::Fact> facts; ///< how the visit was recorded, for whoever signs it
};

struct View {
    const model::Register& reg;
    const model::Protocol* of_visit; ///< never null: of the visit at hand, or the one that would be opened
    const model::LimitLibrary& limits;
    const model::Words& words;
    std::string office;
    std::int64_t day_pack = 0;
    std::string bundles_folder; ///< where bundles are written
    model::Timestamp now;
    std::string who;                     ///< person id; empty before someone took the tablet
    std::set<std::string> have_pin = {}; ///< persons with a PIN on this tablet
    std::string pin_notice = {}; ///< what came of the last PIN, as a sentence; empty when it was right
    std::vector<RoundLine> round;
    std::optional<AtHand> at_hand;
    std::string notice;            ///< the last refusal or problem, as a sentence; empty when none
    std::string notice_checkpoint; ///< where what the notice speaks of can be mended; may be empty
    std::string notice_step;       ///< or the step of the permit; may be empty
    std::string told;       ///< what the last wish did beside the journal, as a sentence; empty when nothing
    bool just_kept = false; ///< the last wish made an entry that the disk has

    [[nodiscard]] const model::Protocol& protocol() const { return *of_visit; }
    [[nodiscard]] const model::Structure* structure(const std::string& id) const { return reg.structure(id); }
    [[nodiscard]] std::string name_of(const std::string& person) const {
        const model::Person* found = reg.person(person);
        return found != nullptr ? found->name : person.empty() ? words.say("people.nobody") : person;
    }
    /// The visit at hand must be there.
    [[nodiscard]] visit::Setting setting() const { return visit::setting_of(ground(), at_hand->state); }
    [[nodiscard]] visit::Ground ground() const {
        return {protocol(), reg, limits, day_pack, at_hand ? at_hand->head : std::string(), now};
    }
};

/// The same sentence with names where it has ids of people.
[[nodiscard]] model::Phrase with_names(const model::Register& reg, model::Phrase phrase);

/// The answer that stands at a checkpoint of the visit at hand; null when there is none.
[[nodiscard]] const visit::Answer* answer_at(const View& view, const std::string& checkpoint);
/// The rule's outcome at a checkpoint; null when there is none.
[[nodiscard]] const visit::Assessed* assessed_at(const View& view, const std::string& checkpoint);

} // namespace crossarm::ui
