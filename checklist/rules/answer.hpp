// Small parts from which the rules put their answers together.
#pragma once

#include "checklist/model/limits.hpp"
#include "checklist/model/phrase.hpp"
#include "checklist/model/verdict.hpp"
#include "checklist/rules/outcome.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace crossarm::rules {

using Places = std::vector<std::pair<std::string, model::Phrase::Value>>;

[[nodiscard]] inline model::Phrase say(std::string key, Places values = {}) {
    return {std::move(key), std::move(values)};
}

[[nodiscard]] inline model::NoVerdict refuse(std::string_view subject, model::Phrase why) {
    return {std::string(subject), std::move(why)};
}

/// Gives a verdict a grade other than Sound: how urgent, why, and what to do.
inline void grade_as(model::Verdict& v, model::Grade grade, model::When when, model::Phrase because,
                     model::Phrase action) {
    v.grade = grade;
    v.when = when;
    v.because = std::move(because);
    v.action = std::move(action);
}

/// Takes the limits that a rule needs out of one set and remembers the first that is not there.
class Needs {
public:
    explicit Needs(const model::LimitSet& set) : set_(set) {}

    /// The limit in exactly that unit; 0 when the set has none, and then ok() is false for good.
    [[nodiscard]] double take(std::string_view name, model::Unit unit) {
        const std::optional<double> value = set_.value(name, unit);
        if (!value && missing_.empty()) {
            missing_ = name;
        }
        return value.value_or(0.0);
    }
    /// Whether the set has the limit in exactly that unit.
    [[nodiscard]] bool has(std::string_view name, model::Unit unit) const {
        return set_.value(name, unit).has_value();
    }
    /// The table; null when the set has none, and then ok() is false for good.
    [[nodiscard]] const model::LimitTable* table(std::string_view name) {
        const model::LimitTable* found = set_.table(name);
        if (found == nullptr && missing_.empty()) {
            missing_ = name;
        }
        return found;
    }
    [[nodiscard]] bool ok() const { return missing_.empty(); }
    /// Says which limit is missing in which set.
    [[nodiscard]] model::NoVerdict refusal(std::string_view subject) const {
        return refuse(subject, say("no.limit_missing", {{"limit", missing_}, {"set", set_.title}}));
    }

private:
    const model::LimitSet& set_;
    std::string missing_;
};

/// Source of a table's row: the set, the table's clause and how sure the row is.
[[nodiscard]] inline model::Source source_of(const model::LimitSet& set, const model::LimitTable& table,
                                             const model::LimitRow& row) {
    return {set.id, set.title, table.clause, row.sure};
}

/// The source of one limit of a set.
[[nodiscard]] inline model::Source source_of(const model::LimitSet& set, const model::Limit& limit) {
    return {set.id, set.title, limit.clause, limit.sure};
}

/// The row of that key; null when there is none.
[[nodiscard]] inline const model::LimitRow* row_of(const model::LimitTable& table, std::string_view key) {
    for (const model::LimitRow& row : table.rows) {
        if (row.key == key) {
            return &row;
        }
    }
    return nullptr;
}

/// The value of a row in a named column of exactly that unit; nothing when the table has none.
[[nodiscard]] inline std::optional<double> cell(const model::LimitTable& table, const model::LimitRow& row,
                                                std::string_view column, model::Unit unit) {
    for (std::size_t i = 0; i < table.columns.size() && i < row.values.size(); ++i) {
        if (table.columns[i] == column && table.units[i] == unit) {
            return row.values[i];
        }
    }
    return std::nullopt;
}

/// The first row whose "up_to" in that unit is not exceeded; null when there is none. For tables whose rows
/// rise.
[[nodiscard]] inline const model::LimitRow* row_up_to(const model::LimitTable& table, double value,
                                                      model::Unit unit) {
    for (const model::LimitRow& row : table.rows) {
        const auto up_to = cell(table, row, "up_to", unit);
        if (up_to && value <= *up_to) {
            return &row;
        }
    }
    return nullptr;
}

} // namespace crossarm::rules
