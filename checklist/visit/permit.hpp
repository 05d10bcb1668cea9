// The permit: what it stands on, who holds it, and why an act is refused. Pure; every guard is one function
// in one list, so that a test can take each of them out and see that the proof then fails.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/permit.hpp"
#include "checklist/model/phrase.hpp"
#include "checklist/model/register.hpp"
#include "checklist/model/timestamp.hpp"

#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::visit::permit {

using model::permit::Act;
using model::permit::EarthKind;
using model::permit::Side;

/// Conductors that are tested and earthed on a side: A, B, C, on the LV side N too.
[[nodiscard]] std::span<const std::string_view> conductors(Side side);

struct Point {
    std::string id, device, place;
    Side side = Side::Hv;
    std::string position; ///< empty until it is open
    std::string lock, label, key_held_by;
    bool open = false;
    bool locked = false;
    bool operator==(const Point&) const = default;
};

/// Detector, every conductor, detector again, in that order; a failure or an indication begins it anew.
struct Proof {
    std::string detector;
    bool before = false;
    std::set<std::string, std::less<>> without_indication; ///< conductors
    bool after = false;
    std::string by;      ///< who recorded the last step
    model::Timestamp at; ///< when
    bool operator==(const Proof&) const = default;
};

/// A proof that was made whole.
struct Proved {
    Side side = Side::Hv;
    Proof proof;
    bool operator==(const Proved&) const = default;
};

struct Earth {
    std::string id;
    EarthKind kind = EarthKind::Control;
    Side side = Side::Hv;
    std::string party, place, fixed_by;
    double size_mm2 = 0.0;
    bool earth_end = false;
    bool line_end = false;
    model::Timestamp at; ///< of its last end put on or taken off
    bool operator==(const Earth&) const = default;
};

enum class Holding { Issued, Accepted, Suspended, HandedBack, TakenBack };

struct Party {
    std::string id;
    Holding holding = Holding::Issued;
    std::string holder, issuer, second;
    model::Timestamp issued_at, accepted_at, until, back_at;
    bool ever_accepted = false;
    std::string reason; ///< why it is suspended
    int tools_out = 0, tools_in = 0;
    model::permit::Signing issue, acceptance, hand_back;
    bool operator==(const Party&) const = default;
};

struct Exception {
    std::string matter, about, reason, by;
    model::Timestamp at;
    bool operator==(const Exception&) const = default;
};

struct State {
    bool prepared = false;
    bool cancelled = false;
    std::string number, work, limits, prepared_by;
    model::Timestamp prepared_at, cancelled_at;
    std::vector<Point> points;
    std::optional<model::permit::SuppliesAsked> supplies;
    Proof hv, lv;               ///< those that count, or are being made
    std::vector<Proved> proved; ///< all that were made whole, in order, also when they no longer count
    std::vector<Earth> earths;  ///< also those that are off again
    std::vector<model::permit::LivePartNoted> live_parts;
    std::string zone;
    std::set<std::string> briefed; ///< persons
    std::vector<Party> parties;
    std::map<std::string, std::string> on; ///< person -> party
    std::vector<Exception> exceptions;
    std::string cancelled_by, cancelled_second;
    model::permit::Signing cancelling;
    std::string device;        ///< the tablet on which it was prepared
    std::size_t irregular = 0; ///< acts that should have been refused, or of another tablet: the band says so
    /// Latest time of any act. A clock that reads less has been set back, and nothing counts as in time.
    model::Timestamp latest_at;
    bool operator==(const State&) const = default;
};

/// The utility's rules, from the limit set of subject "permit.rules".
struct Rules {
    bool control_earths_off_after_cancelling = true;
    double most_hours = 12.0;    ///< from the first issue to any end
    double proof_minutes = 15.0; ///< a proof is good for putting the first earth on for so long
    double least_mm2_hv = 0.0;   ///< least size of an earth, 0 when the fault level is not known
    double least_mm2_lv = 0.0;
    bool earth_lv_too = true; ///< the LV side is earthed as well, whatever was said about back-feed
    std::string set;          ///< id of the limit set; empty: the built-in cautious values above
    bool operator==(const Rules&) const = default;
};
/// Rules of the chosen set; what it leaves open stays cautious.
[[nodiscard]] Rules rules_from(const model::LimitLibrary& limits, const model::Structure& structure);

/// Who may do what on the day.
struct Powers {
    std::set<std::string> known, may_issue, may_accept, leads;
};
[[nodiscard]] Powers powers_on(const model::Register& reg, model::Date day);

/// An act that somebody wishes to do.
struct Wished {
    const Rules& rules;
    const Powers& powers;
    const State& state;
    const Act& act;
    const std::string& by;
    model::Timestamp at;
    const std::string& structure; ///< id: it stands on the sheet that is signed
};

/// Why not, and the step of the Permit screen that mends it.
struct Refusal {
    model::Phrase why;
    std::string step; ///< as Step::id; may be empty
    bool operator==(const Refusal&) const = default;
};

struct Guard {
    const char* name;
    std::optional<Refusal> (*refuses)(const Wished&);
};
/// Every guard. Nothing in the programs asks fewer of them.
[[nodiscard]] std::span<const Guard> guards();
/// The first guard that refuses; nothing when the act may be done. The rules they keep, in short:
/// - What stands on the sheet changes only while no party has accepted: suspend first.
/// - Order: points open and locked, supplies asked, proof, earths, zone, issue. Before the first issue all of
///   it can be mended, and a permit that was never issued can be cancelled.
/// - A proof counts for the first line end on its side, for Rules::proof_minutes. With the last line end off
///   it is void; so it is after a point was added or unlocked, where no line end is on.
/// - Working earths come off under the permit: nobody of their party is signed on but the one who takes them
///   off with the stick (common practice, no source).
/// - Control earths come off before the first issue, or when every party is back and, by Rules, the permit is
///   cancelled.
/// - After an irregular act nothing is issued, accepted, resumed, extended, nobody signs on: only back.
[[nodiscard]] std::optional<Refusal> refusal(const Wished& wished);
/// The same with other guards, for tests that show what each of them is good for.
[[nodiscard]] std::optional<Refusal> refusal(const Wished& wished, std::span<const Guard> guards);

/// What the state is after the act, whether or not it should have been refused. Total: an act about
/// something that is not there changes nothing.
[[nodiscard]] State apply(State state, const Act& act, const std::string& by, model::Timestamp at);

// ---- what others ask --------------------------------------------------------------------------------

/// Anything done after which something may be open, earthed or out: the visit ends through Restore only.
[[nodiscard]] bool has_begun(const State& state);
[[nodiscard]] int earths_on(const State& state); ///< with at least one end on
/// Some party has accepted and works, inside its time, on a regular permit with earths (or a lead's decision)
/// on each side that needs them.
[[nodiscard]] bool in_force(const State& state, const Rules& rules, model::Timestamp now);
[[nodiscard]] bool ever_accepted(const State& state);
/// What keeps supply from returning (locks come off last: with `locks` false they are not asked). Nothing
/// when no permit was prepared and nothing has begun.
[[nodiscard]] std::optional<Refusal> bars_supply(const State& state, bool locks = true);
/// Cancelled, every earth off: what the permit asks of the visit is done.
[[nodiscard]] bool is_closed(const State& state);

/// One line of the Permit screen, in read-do order. Once every party is back, or the permit is cancelled, the
/// lines up to the work count as done.
struct Step {
    std::string id; ///< "prepare" "points" "supplies" "proof_hv" "proof_lv" "earths" "zone" "issue" "accept"
                    ///< "people" "tools" "working_earths" "hand_back" "cancel" "control_earths" "locks"
    bool done = false;
    std::optional<Refusal> missing; ///< what is missing first, when not done
};
/// Steps up to the work, then those back to supply.
[[nodiscard]] std::vector<Step> steps(const State& state, const Rules& rules, model::Timestamp now);

/// What time says about it: run out while held (by how long), people still on after its end, longer than the
/// rules allow, a clock that reads earlier than what is recorded.
[[nodiscard]] std::vector<model::Phrase> time_facts(const State& state, const Rules& rules,
                                                    model::Timestamp now);

/// The sheet: the isolation that an issuer signs for, as canonical text. Its SHA-256 is Signing::over. What a
/// party does afterwards (working earths, people, tools) is not part of it; who holds, and until when, stands
/// in the entry beside the signature.
[[nodiscard]] std::string sheet_text(const State& state, const std::string& structure);
/// Parties that hold a permit and whose signatures (issue, or acceptance) stand over another sheet than
/// today's. Once they handed back the sheet may change: earths come off.
[[nodiscard]] std::vector<std::string> stale(const State& state, const std::string& structure);

} // namespace crossarm::visit::permit
