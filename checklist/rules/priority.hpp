// Which structure comes first, and when the next visit is due: a score whose every part is shown.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/timestamp.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>
#include <vector>

namespace crossarm::rules {

/// What is known about one structure. More or higher is worse in every field.
struct PriorityReadings {
    int dangers = 0; ///< open findings of that grade, 0 to 1000 each
    int repairs = 0;
    int watches = 0;
    int worsening = 0;          ///< trends that got worse since the visit before
    int out_of_reach = 0;       ///< needed checkpoints nobody could see: not known is not Sound
    double age_years = 0.0;     ///< 0 to 120
    double peak_share = 0.0;    ///< of rating, 0 to 3
    int customers = 0;          ///< 0 to 1 000 000
    int critical_customers = 0; ///< hospitals, pumping, exchanges; 0 to 1000
    int days_overdue = 0;       ///< 0 to 36 500
};

/// One part of the score.
struct ScorePart {
    std::string name;    ///< words key, "work.priority.dangers"
    double points = 0.0; ///< never below 0
    std::string how;     ///< "2 × 1000"
};

struct Score {
    std::vector<ScorePart> parts; ///< in a fixed order, those with 0 points too
    double total = 0.0;           ///< their sum
};

/// The sum of the parts, by the points of the set ("points.danger" ... ). Each part grows with its field and
/// with nothing else, so a structure that is worse in one field and better in none never ranks lower. Nothing
/// for an impossible number, a missing limit or negative points.
[[nodiscard]] std::optional<Score> score(const PriorityReadings& readings, const model::LimitSet& points);

/// The score as a verdict: parts are the workings, total and largest part in the sentence. Grade by the worst
/// open finding, Watch when the total is above "total.watch_above". Subject "priority".
[[nodiscard]] Outcome priority(const PriorityReadings& readings, const model::LimitSet& points);

/// What the next date follows from.
struct NextVisitReadings {
    model::Date done;                                       ///< the day of this visit
    model::Grade worst = model::Grade::Sound;               ///< worst grade left open
    bool complete = true;                                   ///< no needed checkpoint unseen or out of reach
    double score = 0.0;                                     ///< 0 to 1e6
    std::vector<std::pair<std::string, model::Date>> asked; ///< dates that rules ask for, with their subject
};

/// The date and what set it.
struct NextVisit {
    model::Date due;
    std::string by; ///< words key of the interval, or the subject of the rule that asked
};

/// The earliest of: done + the interval for the worst grade, halved from "score.halves_above" on; the same
/// for "interval.incomplete" when something was not seen; every date asked for (never before the day itself).
/// A worse grade, a higher score or one more date never makes it later. Nothing for impossible numbers.
[[nodiscard]] std::optional<NextVisit> next_visit(const NextVisitReadings& readings,
                                                  const model::LimitSet& points);

} // namespace crossarm::rules
