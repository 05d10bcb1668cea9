// The protocol: stages, parts and checkpoints of a visit, as data.
#pragma once

#include "checklist/model/grade.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/units.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace crossarm::model {

/// How a stage is gone through: one step after the other, each locked until the one before is answered; or
/// in any order, with one look over the list at the end.
enum class Order { ReadThenDo, DoThenConfirm };

struct Stage {
    std::string id;    ///< "arrive" "brief" "permit" "work" "restore" "sign_off" "hand_over"
    std::string title; ///< "Arrive"
    std::string purpose;
    Order order = Order::ReadThenDo;
};

struct Part {
    std::string id;            ///< "hv_bushings"
    std::string title;         ///< "HV bushings"
    bool beyond_reach = false; ///< cannot be touched from the ground: no work until the permit is in force
};

struct Option {
    std::string id;
    std::string title;
    std::optional<Grade> grade; ///< the grade that picking it means
    std::string stops; ///< when not empty: the stage cannot be finished while this is the answer; why
};

/// Ranges of a reading, both ends included. Outside hard: cannot be, is not kept. Outside usual: asks once
/// and keeps with a reason.
struct Range {
    double low = 0.0;
    double high = 0.0;
    [[nodiscard]] bool holds(double x) const { return x >= low && x <= high; }
};

struct GradeInput {
    /// What each grade looks like here, from Sound to Danger; an empty text means that grade is not offered.
    std::string sound, watch, repair, danger;
};
struct ChoiceInput {
    std::vector<Option> options; ///< at least two
};
/// Who is here: picked from the people in the register.
struct PeopleInput {
    int at_least = 1;
};
struct NumberInput {
    Unit unit = Unit::One;
    Range hard;
    Range usual;
    int decimals = 1; ///< 0 to 3
};
struct NumbersInput {
    Unit unit = Unit::One;
    Range hard;
    Range usual;
    int decimals = 1;
    std::vector<std::string> names; ///< one for each reading: "shot 1", "phase A"; its size is their number
};
struct TextInput {
    int at_most = 200;      ///< characters
    bool is_sample = false; ///< the number of an oil sample: one is offered, and its label can be printed
};
using Input = std::variant<GradeInput, ChoiceInput, PeopleInput, NumberInput, NumbersInput, TextInput>;

/// One plain condition under which a checkpoint is asked; all of a checkpoint's conditions must hold.
struct Condition {
    std::string checkpoint; ///< another checkpoint whose answer is one of `any_of`
    std::vector<std::string> any_of;
    std::string nameplate;       ///< or a fact of the plate: "conservator", "breather", "hv_fuse"
    std::vector<std::string> is; ///< that has one of these values: "yes" "no"; "blue" "orange" "none" "";
                                 ///< "fitted" ""; "" is not known
};

struct Checkpoint {
    std::string id;    ///< "oil.breakdown", unique
    std::string part;  ///< part id; empty for the stage itself (briefing)
    std::string stage; ///< stage id; never "permit": the program itself asks for the steps of the permit
    std::string title;
    std::string how; ///< how to look or measure, for a second-year lineman
    std::vector<std::string> cautions;
    Input input;
    bool needed = true;
    bool may_be_out_of_reach = true;
    bool may_be_not_fitted = false;
    std::vector<Condition> asked_when;
    bool bars_climbing = false; ///< an undecided Danger here locks every part beyond reach
    std::string feeds;          ///< rule fed by the answer, "oil.breakdown"; empty for none
};

/// The checkpoints that the interlocks read.
struct KeyCheckpoints {
    std::string crew; ///< people, in Brief: each of them is briefed before the permit is prepared
    std::string
        energise; ///< choice, in Restore: locked until the permit is cancelled and every Danger decided
    std::string stays_off; ///< the option of `energise` with which supply does not return and locks may stay
};

struct Protocol {
    std::string id;
    int edition = 1;
    std::string kind; ///< "upkeep", "uprating"
    std::string title;
    std::vector<Stage> stages;
    std::vector<Part> parts;             ///< in walking order from the ground up
    std::vector<Checkpoint> checkpoints; ///< in the order they are asked
    KeyCheckpoints keys;
    std::string digest; ///< SHA-256 of the file's bytes, hexadecimal

    [[nodiscard]] const Checkpoint* checkpoint(std::string_view id) const;
    [[nodiscard]] const Part* part(std::string_view id) const;
    [[nodiscard]] const Stage* stage(std::string_view id) const;
    [[nodiscard]] std::size_t stage_index(std::string_view id) const; ///< stages.size() when unknown
};

/// Reads one protocol file ("crossarm.protocol/1"). Problem names file, JSON pointer and remedy: not JSON, a
/// field missing, an unknown word, a duplicate id, a reference to nothing.
[[nodiscard]] Result<Protocol> read_protocol(std::string_view json_text, std::string_view file);

} // namespace crossarm::model
