// Limit sets: published (or the utility's own) figures as data, each with its source.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/model/units.hpp"
#include "checklist/model/verdict.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::model {

/// One figure: "breakdown.good_above" = 40 kV, with the clause it stands in and how sure it is.
struct Limit {
    std::string name;
    Quantity value;
    std::string clause;
    std::string sure; ///< as Source::sure
    std::string note; ///< may be empty
    bool operator==(const Limit&) const = default;
};

/// One row of a table whose columns are the set's `columns`, for figures that are looked up by a key
/// (voltage class, species, bolt size).
struct LimitRow {
    std::string key;            ///< "M12", "fast"; unique in its table
    std::vector<double> values; ///< one for each column of the table, all finite
    std::string sure;
    bool operator==(const LimitRow&) const = default;
};

struct LimitTable {
    std::string name; ///< "torque"
    std::string clause;
    std::vector<std::string> columns; ///< names of the columns
    std::vector<Unit> units;          ///< unit of each column
    std::vector<LimitRow> rows;
    bool operator==(const LimitTable&) const = default;
};

/// Figures from one source for one subject. A subject may have several sets; the utility picks one, and
/// every verdict names the one that decided. Never mix or interpolate between two sets.
struct LimitSet {
    std::string id;      ///< "iec60422-2013-c", unique
    std::string subject; ///< "oil.in_service": which rules may use it
    std::string title;   ///< "IEC 60422:2013, category C"
    std::string edition;
    std::string applies; ///< what it is for, in words: voltage class, equipment
    std::string note;
    std::vector<Limit> limits;
    std::vector<LimitTable> tables;

    /// The limit of that name; null when the set has none.
    [[nodiscard]] const Limit* find(std::string_view name) const;
    [[nodiscard]] const LimitTable* table(std::string_view name) const;
    /// Its value when it is there in exactly that unit; nothing otherwise.
    [[nodiscard]] std::optional<double> value(std::string_view name, Unit unit) const;
    /// Source of one limit for a verdict.
    [[nodiscard]] Source source_of(std::string_view limit_name) const;
    bool operator==(const LimitSet&) const = default;
};

/// Every limit set at hand, and which one is chosen for each subject.
struct LimitLibrary {
    std::vector<LimitSet> sets;
    std::vector<std::pair<std::string, std::string>> chosen; ///< subject -> set id

    /// The chosen set of a subject, or the first one for it, or null when there is none.
    [[nodiscard]] const LimitSet* for_subject(std::string_view subject) const;
    [[nodiscard]] const LimitSet* by_id(std::string_view id) const;
};

/// Reads one limit file ("crossarm.limits/1"). Problem names file and JSON pointer.
[[nodiscard]] Result<LimitSet> read_limit_set(std::string_view json_text, std::string_view file);

} // namespace crossarm::model
