// The utility's register: structures, their nameplates, people, whom to call, and earlier readings.
#pragma once

#include "checklist/model/finding.hpp"
#include "checklist/model/timestamp.hpp"
#include "checklist/model/units.hpp"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::model {

/// What the transformer's plate says. A fact that is not known stays empty; rules refuse or say so.
struct Nameplate {
    double rating_kVA = 0.0; ///< 5 to 5000
    double hv_kV = 11.0;     ///< nominal, phase to phase
    double lv_V = 433.0;     ///< no-load, phase to phase
    std::string make;
    std::string serial;
    std::optional<int> made_year;
    std::optional<double> impedance_percent;
    std::optional<double> oil_litres;
    std::optional<double> mass_kg;
    std::optional<double> no_load_loss_W;
    std::optional<double> load_loss_W; ///< at rated current and 75 °C
    std::optional<double> top_oil_rise_K;
    std::string vector_group; ///< "Dyn11"; empty when unknown
    std::string breather;     ///< "blue", "orange", "none" (sealed tank), "" unknown
    bool conservator = true;  ///< has an expansion vessel with a breather
    std::optional<double> gel_kg;
    std::string hv_fuse;    ///< fitted link as the register has it, "16 K"
    std::string lv_breaker; ///< "200 A MCCB"
    bool operator==(const Nameplate&) const = default;
};

/// One pole-mounted substation.
struct Structure {
    std::string id;         ///< "QM-0107", unique, what is painted on it
    std::string name;       ///< "Weir Cottages"
    std::string feeder;     ///< "Osier Lane"
    double latitude = 0.0;  ///< WGS 84, degrees
    double longitude = 0.0; ///< WGS 84, degrees
    std::string support;    ///< "two-pole", "single-pole"
    std::string pole;       ///< "wood", "concrete", "steel"
    int customers = 0;
    int critical_customers = 0;          ///< hospitals, pumping, telephone exchanges
    std::string note;                    ///< hazards from earlier visits, in words
    std::string hospital;                ///< nearest one with an emergency room, for the briefing
    std::optional<int> hospital_minutes; ///< by road from the structure
    Nameplate plate;
    bool operator==(const Structure&) const = default;
};

/// What a person can be authorised for: to issue and to accept a permit, to sign a visit, to give first aid,
/// to climb. The utility authorises; the program only repeats what its register says.
constexpr std::array<std::string_view, 5> kCompetences = {"issue_permit", "accept_permit", "sign_visit",
                                                          "first_aid", "climb"};

/// One authorisation of a person, good up to and including the day `until`.
struct Competence {
    std::string what; ///< one of kCompetences
    Date until;
    bool operator==(const Competence&) const = default;
};

/// A person of the utility. Roles: "crew", "lead", "office".
struct Person {
    std::string id; ///< "P-014", unique
    std::string name;
    std::vector<std::string> roles;
    std::vector<Competence> competences = {};
    [[nodiscard]] bool is(std::string_view role) const;
    /// True when the register has this competence and it has not run out on the day `on`.
    [[nodiscard]] bool may(std::string_view what, Date on) const;
    bool operator==(const Person&) const = default;
};

/// A visit that the office asks for.
struct DueVisit {
    std::string structure;
    std::string kind = "upkeep";
    Date due;
    std::string reason;
    bool operator==(const DueVisit&) const = default;
};

/// What an earlier visit (or the laboratory) recorded at a checkpoint.
struct EarlierReading {
    std::string structure;
    std::string checkpoint;
    Date on;
    Value value;
    bool operator==(const EarlierReading&) const = default;
};

/// Whom a crew calls, for the briefing. Empty when the office has not given it.
struct Utility {
    std::string control_room_call; ///< "Control room, extension 100"
    std::string emergency_call;
    bool operator==(const Utility&) const = default;
};

/// Everything the office knows and a visit needs.
struct Register {
    std::vector<Structure> structures;
    std::vector<Person> people;
    std::vector<DueVisit> due;
    std::vector<EarlierReading> earlier;
    Utility utility = {};

    [[nodiscard]] const Structure* structure(std::string_view id) const;
    [[nodiscard]] const Person* person(std::string_view id) const;
    /// Earlier readings of one checkpoint, oldest first.
    [[nodiscard]] std::vector<EarlierReading> earlier_of(std::string_view structure,
                                                         std::string_view checkpoint) const;
};

/// The nearest known structure id to a mistyped one (edit distance up to 3); empty when none is near.
[[nodiscard]] std::string nearest_structure(const Register& reg, std::string_view id);

} // namespace crossarm::model
