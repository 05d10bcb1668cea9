// What was recorded at a checkpoint.
#pragma once

#include "checklist/model/grade.hpp"
#include "checklist/model/units.hpp"

#include <string>
#include <variant>
#include <vector>

namespace crossarm::model {

/// One of the checkpoint's choices (or several of them, for a list of people present).
struct Choice {
    std::vector<std::string> picked; ///< option ids, at least one, in the order of the protocol
    bool operator==(const Choice&) const = default;
};

/// Free words of a person.
struct Remark {
    std::string text;
    bool operator==(const Remark&) const = default;
};

/// Several readings of one kind, in the order taken (six breakdown shots, three phases).
struct Readings {
    std::vector<Quantity> values;
    bool operator==(const Readings&) const = default;
};

/// Could not be reached or measured, with the person's reason. Not a grade.
struct OutOfReach {
    std::string reason;
    bool operator==(const OutOfReach&) const = default;
};

/// This structure has no such thing. Not a grade.
struct NotFitted {
    bool operator==(const NotFitted&) const = default;
};

/// What was recorded. A checkpoint for which nothing was recorded is Unseen, and has no Value at all.
using Value = std::variant<Grade, Choice, Quantity, Readings, Remark, OutOfReach, NotFitted>;

/// A value at a checkpoint. `insisted` is the person's reason for keeping a reading outside what is usual;
/// empty when the reading is within it.
struct Finding {
    std::string part;
    std::string checkpoint;
    Value value;
    std::string insisted;
    std::string note; ///< the person's own words about it; may be empty
    bool operator==(const Finding&) const = default;
};

} // namespace crossarm::model
