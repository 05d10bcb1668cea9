// From what the finger meant to the entries it makes, or the reason why not.
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/visit/assess.hpp"
#include "checklist/visit/intents.hpp"
#include "checklist/visit/state.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace crossarm::visit {

/// Why an intent makes no entry, and what would mend it: a checkpoint, a step of the permit, or neither.
struct Refusal {
    model::Phrase why;
    std::string checkpoint;
    std::string step = {}; ///< as Missing::step
    bool operator==(const Refusal&) const = default;
};

/// The bodies to append, in order; or a refusal. Pure: no clock, no store.
using Decided = std::variant<std::vector<model::Body>, Refusal>;

/// What a decision may look at besides the state.
struct Ground {
    const model::Protocol& protocol;
    const model::Register& reg;
    const model::LimitLibrary& limits;
    std::int64_t day_pack = 0;
    std::string head;     ///< hash of the visit's last entry on this device; "" when there is none
    model::Timestamp now; ///< the moment of the intent: the entries are to bear it
};

/// The setting of a state that is open: its structure is in the register.
[[nodiscard]] Setting setting_of(const Ground& ground, const State& state);

/// Why a checkpoint cannot be recorded now: all that `locked` knows, and undecided Dangers (those that bar
/// climbing for parts beyond reach, all of them before supply may return). `undecided` is what
/// undecided_dangers() says of the state. Nothing when it can. Of the answers at
/// the key `energise` only the one with which supply stays off may then be given while locks are on.
[[nodiscard]] std::optional<Refusal> why_not(const Ground& ground, const State& state,
                                             const std::vector<std::string>& undecided,
                                             const std::string& checkpoint);
/// What keeps the visit from being signed, whoever signs; empty when nothing does.
[[nodiscard]] std::vector<Missing> missing_for_signing(const Ground& ground, const State& state);

/// True when the visit can be broken off now: not signed, not broken off, not restored already. What follows
/// is the lead's signature, after Restore when the permit had begun.
[[nodiscard]] bool may_break_off(const Ground& ground, const State& state);

/// Decides `intent` of person `who` on `state`. Every interlock is asked here, so that no screen can step
/// around one: stage order, read-then-do order, parts beyond reach, hard ranges, units, options that do not
/// exist, the signer is not a doer, undecided Dangers, a stale head, and everything that permit::refusal
/// knows.
[[nodiscard]] Decided decide(const Ground& ground, const State& state, const Intent& intent,
                             const std::string& who);

} // namespace crossarm::visit
