// What can happen to a permit to work and the isolation it stands on: each act is one entry of the journal.
//
// The words are those of the open guidance on permits: prepared, issued, accepted, suspended, handed back,
// cancelled. One visit has one isolation; under it one or more parties each hold a permit of their own.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>
#include <string_view>
#include <variant>

namespace crossarm::model {
class JsonReader;
}

namespace crossarm::model::permit {

enum class Side { Hv, Lv };
/// "hv" or "lv", as it stands in files and in LeadDecided::about.
[[nodiscard]] const char* word_of(Side side);
/// Control earths are named on the permit and belong to the issuer; working earths are put on by a party.
enum class EarthKind { Control, Working };

/// What a signature stands for: the digest of exactly the text that was shown, and the strokes as drawn.
struct Signing {
    std::string over;    ///< SHA-256 of the permit sheet that was signed, hexadecimal
    std::string strokes; ///< as checklist/model/strokes.hpp writes them
    bool operator==(const Signing&) const = default;
};

/// The permit is prepared: which, for what work, and where the work ends. By the one who will issue it.
struct Prepared {
    std::string number;
    std::string work;
    std::string limits; ///< what the work does not reach to
    bool operator==(const Prepared&) const = default;
};
/// A point from which supply could come, to be opened and locked.
struct PointAdded {
    std::string point; ///< unique under this permit, "HV1"
    std::string device;
    std::string place;
    Side side = Side::Hv;
    bool operator==(const PointAdded&) const = default;
};
struct PointOpened {
    std::string point;
    std::string position; ///< as seen: "three tubes down, gap seen"
    bool operator==(const PointOpened&) const = default;
};
struct PointLocked {
    std::string point;
    std::string lock;  ///< number of the lock, or what keeps it open
    std::string label; ///< number of the label
    std::string key_held_by;
    bool operator==(const PointLocked&) const = default;
};
/// Lock and label are off and accounted for.
struct PointUnlocked {
    std::string point;
    bool operator==(const PointUnlocked&) const = default;
};
/// Stand-by supplies and back-feed were asked about. Each answer: "none", "locked_off", "earthed" (found,
/// cannot be locked: the LV side is earthed against it).
struct SuppliesAsked {
    std::string generators, solar, ring;
    std::string asked_of;
    bool operator==(const SuppliesAsked&) const = default;
};
/// The detector was tried on a known source (before), or again (after the conductors).
struct DetectorProved {
    Side side = Side::Hv;
    std::string detector; ///< its number
    bool after = false;
    bool indicated = false;
    bool operator==(const DetectorProved&) const = default;
};
/// `result`: "none" (no indication), "indicated", "not_reached".
struct ConductorTested {
    Side side = Side::Hv;
    std::string conductor; ///< "A" "B" "C", on the LV side also "N"
    std::string result;
    bool operator==(const ConductorTested&) const = default;
};
/// The earth end of a temporary earth is on: always the first of its two ends.
struct EarthEndOn {
    std::string earth; ///< serial number on its tag
    EarthKind kind = EarthKind::Control;
    Side side = Side::Hv;
    std::string party; ///< of a working earth; empty for a control earth
    std::string place;
    std::string fixed_by; ///< person id
    double size_mm2 = 0.0;
    bool operator==(const EarthEndOn&) const = default;
};
struct LineEndOn {
    std::string earth;
    bool operator==(const LineEndOn&) const = default;
};
struct LineEndOff {
    std::string earth;
    bool operator==(const LineEndOff&) const = default;
};
struct EarthEndOff {
    std::string earth;
    bool operator==(const EarthEndOff&) const = default;
};
/// A part that stays live near the work.
struct LivePartNoted {
    std::string what;
    double distance_m = 0.0;
    bool operator==(const LivePartNoted&) const = default;
};
struct ZoneMarked {
    std::string how;
    bool operator==(const ZoneMarked&) const = default;
};
/// This person heard the briefing and said their own task. By that person.
struct Briefed {
    std::string person;
    bool operator==(const Briefed&) const = default;
};
/// By the issuer, confirmed by a second person.
struct Issued {
    std::string party; ///< "A", "B"
    std::string holder;
    Timestamp until;
    std::string second;
    Signing signing;
    bool operator==(const Issued&) const = default;
};
/// By the holder.
struct Accepted {
    std::string party;
    Signing signing;
    bool operator==(const Accepted&) const = default;
};
/// Work stops. By anyone; an empty party means every one of them.
struct Suspended {
    std::string party;
    std::string reason;
    bool operator==(const Suspended&) const = default;
};
/// By the issuer, after looking that everything still is as issued; the holder accepts again.
struct Resumed {
    std::string party;
    bool operator==(const Resumed&) const = default;
};
/// By the issuer: another person is to hold the suspended permit, and has to accept it.
struct Transferred {
    std::string party;
    std::string holder;
    bool operator==(const Transferred&) const = default;
};
/// By the issuer.
struct Extended {
    std::string party;
    Timestamp until;
    bool operator==(const Extended&) const = default;
};
/// By the issuer: issued, but nobody accepted it.
struct TakenBack {
    std::string party;
    bool operator==(const TakenBack&) const = default;
};
/// By the person.
struct SignedOn {
    std::string party;
    std::string person;
    bool operator==(const SignedOn&) const = default;
};
/// By the person, or by another one who then says why.
struct SignedOff {
    std::string person;
    std::string reason;
    bool operator==(const SignedOff&) const = default;
};
struct ToolsOut {
    std::string party;
    int count = 0; ///< further tools and loose parts, at least 1
    bool operator==(const ToolsOut&) const = default;
};
struct ToolsIn {
    std::string party;
    int count = 0; ///< at least 1
    bool operator==(const ToolsIn&) const = default;
};
/// The recorded way when something cannot be as it should. `matter`: "earth_not_fitted" (about a side),
/// "tools_not_found" (about a party). By a lead who holds no permit, while no party works.
struct LeadDecided {
    std::string matter;
    std::string about; ///< "hv" "lv", or a party
    std::string reason;
    bool operator==(const LeadDecided&) const = default;
};
/// By the holder.
struct HandedBack {
    std::string party;
    std::string remarks;
    Signing signing;
    bool operator==(const HandedBack&) const = default;
};
/// By someone who may issue, confirmed by a second person.
struct Cancelled {
    std::string second;
    Signing signing;
    bool operator==(const Cancelled&) const = default;
};

using Act =
    std::variant<Prepared, PointAdded, PointOpened, PointLocked, PointUnlocked, SuppliesAsked, DetectorProved,
                 ConductorTested, EarthEndOn, LineEndOn, LineEndOff, EarthEndOff, LivePartNoted, ZoneMarked,
                 Briefed, Issued, Accepted, Suspended, Resumed, Transferred, Extended, TakenBack, SignedOn,
                 SignedOff, ToolsOut, ToolsIn, LeadDecided, HandedBack, Cancelled>;

/// "prepared", "point_added" ...: the entry's kind is "permit." and this.
[[nodiscard]] std::string_view name(const Act& act);
/// The act's data as it stands in its entry; read_act reads exactly that back.
[[nodiscard]] nlohmann::json to_json(const Act& act);
/// The act of that name. The first thing wrong is remembered by `data`: an unknown name or answer, a member
/// missing, a negative or absurd number.
[[nodiscard]] Act read_act(std::string_view name, const JsonReader& data);
/// True for the name of an act.
[[nodiscard]] bool is_act(std::string_view name);

} // namespace crossarm::model::permit
