// What a reading means: grade, urgency, action, and how it was worked out.
#pragma once

#include "checklist/model/grade.hpp"
#include "checklist/model/phrase.hpp"
#include "checklist/model/units.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::model {

/// Which limit decided: the limit set's name and edition, and the clause or table in it.
struct Source {
    std::string set;    ///< id of the limit set, "iec60422-2013-c"
    std::string title;  ///< "IEC 60422:2013, category C"
    std::string clause; ///< "Table 5"
    std::string sure;   ///< how sure the figure is: "read", "second hand", "from memory", "derived",
                        ///< "common practice"
    bool operator==(const Source&) const = default;
};

/// One line of the workings: a named value, in the order in which it was worked out.
struct Working {
    std::string name; ///< words key, "work.mean"
    Quantity value;
    std::string how; ///< the step in plain notation, "(52 + 48 + 55 + 47 + 50 + 49) / 6"; may be empty
    bool operator==(const Working&) const = default;
};

/// A pure rule's answer. Everything in it follows from the rule's arguments alone.
struct Verdict {
    std::string subject; ///< "oil.breakdown": the rule that spoke
    Grade grade = Grade::Sound;
    std::optional<When> when; ///< nothing when no action is called for
    Phrase action;            ///< what to do; key "" when nothing
    Phrase because;           ///< one plain sentence
    std::vector<Working> workings;
    Source source;
    std::vector<Phrase> cautions;
    bool operator==(const Verdict&) const = default;
};

/// A rule's refusal to give a verdict: readings that are missing, impossible or outside the rule's range.
/// Shown as it is; never as Sound.
struct NoVerdict {
    std::string subject;
    Phrase why;
    bool operator==(const NoVerdict&) const = default;
};

} // namespace crossarm::model
