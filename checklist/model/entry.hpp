// An entry: one immutable line in a visit's journal.
#pragma once

#include "checklist/model/finding.hpp"
#include "checklist/model/ids.hpp"
#include "checklist/model/permit.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"

#include <nlohmann/json_fwd.hpp>

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

namespace crossarm::model {

/// First entry of a visit: what it is and under which protocol and day pack it is done.
struct Opened {
    std::string structure;
    std::string protocol;        ///< protocol id
    std::string protocol_digest; ///< SHA-256 of the protocol file
    std::int64_t day_pack = 0;   ///< number of the day pack, 0 for none
    bool operator==(const Opened&) const = default;
};

/// Something was found. When `replaces` is set it corrects that entry, which stays in the journal.
struct Found {
    Finding finding;
    std::optional<Id> replaces;
    bool operator==(const Found&) const = default;
};

/// Takes an entry back (undo): the checkpoint is as it was before that entry.
struct Withdrawn {
    Id entry;
    bool operator==(const Withdrawn&) const = default;
};

/// The crew says that a stage is finished.
struct StageFinished {
    std::string stage;
    bool operator==(const StageFinished&) const = default;
};

/// The lead decides what happens about a Danger. It holds for exactly that entry: when the checkpoint is
/// recorded again, it is undecided again.
struct DangerDecided {
    std::string checkpoint;
    Id entry;             ///< the finding decided about
    std::string decision; ///< "put_right" (mended and seen), "supply_stays_off", "may_return"
    std::string reason;   ///< the lead's words; never empty
    bool operator==(const DangerDecided&) const = default;
};

/// The lead signs the visit: everything up to the entry whose hash is `head`.
struct Signed {
    std::string head;         ///< hash of the last entry before this one, hexadecimal
    std::string words;        ///< the lead's remark; may be empty
    std::string strokes = {}; ///< the signature as drawn; empty when none was
    bool operator==(const Signed&) const = default;
};

/// The crew breaks the visit off (no-go, weather, called away). The stages that are left are not done, but
/// for Restore when the permit stage had begun; the lead signs what there is.
struct BrokenOff {
    std::string reason; ///< never empty
    bool operator==(const BrokenOff&) const = default;
};

/// Something happened to the permit or the isolation under it.
struct PermitActed {
    permit::Act act;
    bool operator==(const PermitActed&) const = default;
};

/// An entry of a kind that this version does not know (made by a newer one, or by an other issue's rooms).
/// Kept, passed on and hashed like any other; the fold leaves it out and says so.
struct OtherKind {
    std::string kind;
    std::string data; ///< canonical JSON of its data
    bool operator==(const OtherKind&) const = default;
};

using Body = std::variant<Opened, Found, Withdrawn, StageFinished, DangerDecided, Signed, BrokenOff,
                          PermitActed, OtherKind>;

struct Entry {
    Id id;
    Id visit;
    std::string device;   ///< the tablet
    std::int64_t seq = 0; ///< 1, 2, 3 ... in this visit on this device
    Timestamp at;
    std::string by; ///< person id
    Body body;
    std::string prev; ///< hash of the entry before it in this visit on this device; "" for the first
    bool operator==(const Entry&) const = default;
};

/// The kind's name in files: "opened" "found" "withdrawn" "stage_finished" "danger_decided" "signed"
/// "broken_off", and "permit." with the act's name.
[[nodiscard]] std::string kind_of(const Body& body);
/// The entry as RFC 8785 text: exactly these bytes are stored, hashed and exported.
[[nodiscard]] std::string to_canonical(const Entry& entry);
/// Reads what to_canonical wrote. Problem names `where` and the JSON pointer in it.
[[nodiscard]] Result<Entry> read_entry(std::string_view canonical_text, std::string_view where);
/// The same from JSON that was read already; `place` begins the Problem's place.
[[nodiscard]] Result<Entry> entry_from_json(const nlohmann::json& json, const std::string& place);
/// SHA-256 of an entry's canonical text, hexadecimal.
[[nodiscard]] std::string hash_of(std::string_view canonical_text);

} // namespace crossarm::model
