// Protective gear: rubber gloves by class and voltage, and test dates.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/timestamp.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>

namespace crossarm::rules {

/// The same day of the month `months` later (0 to 240), the month's last day where it has no such day.
[[nodiscard]] std::optional<model::Date> months_later(model::Date from, int months);

/// A piece of gear and its last electrical test or detailed examination.
struct TestDateReadings {
    std::string item; ///< row of the set's table "interval": "gloves", "sleeves", "hot_stick", "harness"
    model::Date tested;
    model::Date today; ///< given, never asked of a clock
};

/// Next test = tested + "months" of the row. Past: Danger, not to be used. Within "warn.before" days: Watch.
/// A test in the future is refused. Subject "gear.test_date".
[[nodiscard]] Outcome test_date(const TestDateReadings& readings, const model::LimitSet& set);

struct GloveReadings {
    std::string glove_class; ///< "00" "0" "1" "2" "3" "4"
    double voltage_kV = 0.0; ///< nominal phase to phase, above 0 up to 100
    model::Date tested;
    model::Date today;
};

/// Class against voltage by the table "gloves" (column "use" kV, alternating current), then the test date as
/// above. A voltage above the class: Danger, and the lowest class that serves is named. Subject
/// "gear.gloves".
[[nodiscard]] Outcome gloves(const GloveReadings& readings, const model::LimitSet& set);

} // namespace crossarm::rules
