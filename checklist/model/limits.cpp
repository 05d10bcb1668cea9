// Reading limit files and looking figures up in them.
#include "checklist/model/limits.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/json_reader.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace crossarm::model {

namespace {

constexpr std::array<std::string_view, 5> kSure = {"read", "second hand", "from memory", "derived",
                                                   "common practice"};

/// A text that is there and not empty.
std::string needed_text(const JsonReader& from, const char* name) {
    std::string text = from.text(name);
    if (!from.failed() && text.empty()) {
        from.wrong(name, "this text is empty", "write it");
    }
    return text;
}

std::string sure_of(const JsonReader& from) {
    std::string sure = from.text("sure");
    if (!from.failed() && std::find(kSure.begin(), kSure.end(), sure) == kSure.end()) {
        from.wrong("sure", "unknown word \"" + sure + "\"",
                   "write one of: read, second hand, from memory, derived, common practice");
    }
    return sure;
}

Unit unit_from(const JsonReader& from, const char* name, const std::string& code) {
    const auto unit = unit_of(code);
    if (!unit && !from.failed()) {
        from.wrong(name, "unknown unit \"" + code + "\"",
                   "write a UCUM code that this program knows, for example \"kV\"");
    }
    return unit.value_or(Unit::One);
}

Limit read_limit(const JsonReader& from) {
    from.only({"name", "value", "clause", "sure", "note"});
    Limit limit;
    limit.name = needed_text(from, "name");
    const JsonReader value = from.object("value");
    value.only({"value", "unit"});
    limit.value.value = value.number("value");
    limit.value.unit = unit_from(value, "unit", value.text("unit"));
    limit.clause = needed_text(from, "clause");
    limit.sure = sure_of(from);
    limit.note = from.text_or("note", "");
    return limit;
}

LimitRow read_row(const JsonReader& from, std::size_t columns) {
    from.only({"key", "values", "sure"});
    LimitRow row{needed_text(from, "key"), {}, sure_of(from)};
    const nlohmann::json& values = from.raw("values");
    if (from.failed()) {
        return row;
    }
    if (!values.is_array() || values.size() != columns) {
        from.wrong("values", "the row does not have one number for each column",
                   "write " + std::to_string(columns) + " numbers");
        return row;
    }
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (!values[i].is_number() || !std::isfinite(values[i].get<double>())) {
            from.wrong(("values/" + std::to_string(i)).c_str(), "this is not a finite number",
                       "write a number");
            return row;
        }
        row.values.push_back(values[i].get<double>());
    }
    return row;
}

LimitTable read_table(const JsonReader& from) {
    from.only({"name", "clause", "columns", "units", "rows"});
    LimitTable table;
    table.name = needed_text(from, "name");
    table.clause = needed_text(from, "clause");
    table.columns = from.texts("columns");
    const std::vector<std::string> codes = from.texts("units");
    const std::vector<JsonReader> rows = from.objects("rows");
    if (from.failed()) {
        return table;
    }
    if (table.columns.empty()) {
        from.wrong("columns", "the table has no columns", "name them");
    }
    if (codes.size() != table.columns.size()) {
        from.wrong("units", "there is not one unit for each column",
                   "write " + std::to_string(table.columns.size()) + " units");
    }
    if (rows.empty()) {
        from.wrong("rows", "the table has no rows", "add them");
    }
    for (const std::string& code : codes) {
        table.units.push_back(unit_from(from, "units", code));
    }
    for (const JsonReader& each : rows) {
        LimitRow row = read_row(each, table.columns.size());
        for (const LimitRow& other : table.rows) {
            if (other.key == row.key) {
                each.wrong("key", "the key \"" + row.key + "\" is there twice", "remove one of the two rows");
            }
        }
        table.rows.push_back(std::move(row));
    }
    return table;
}

} // namespace

const Limit* LimitSet::find(std::string_view name) const {
    for (const auto& limit : limits) {
        if (limit.name == name) {
            return &limit;
        }
    }
    return nullptr;
}

const LimitTable* LimitSet::table(std::string_view name) const {
    for (const auto& each : tables) {
        if (each.name == name) {
            return &each;
        }
    }
    return nullptr;
}

std::optional<double> LimitSet::value(std::string_view name, Unit unit) const {
    const Limit* limit = find(name);
    if (limit == nullptr || limit->value.unit != unit) {
        return std::nullopt;
    }
    return limit->value.value;
}

Source LimitSet::source_of(std::string_view limit_name) const {
    const Limit* limit = find(limit_name);
    if (limit == nullptr) {
        return {id, title, "", ""};
    }
    return {id, title, limit->clause, limit->sure};
}

const LimitSet* LimitLibrary::for_subject(std::string_view subject) const {
    for (const auto& [of, set] : chosen) {
        if (of == subject) {
            return by_id(set);
        }
    }
    for (const auto& set : sets) {
        if (set.subject == subject) {
            return &set;
        }
    }
    return nullptr;
}

const LimitSet* LimitLibrary::by_id(std::string_view id) const {
    for (const auto& set : sets) {
        if (set.id == id) {
            return &set;
        }
    }
    return nullptr;
}

Result<LimitSet> read_limit_set(std::string_view json_text, std::string_view file) {
    const auto parsed = parse_json(json_text, file);
    if (!parsed) {
        return parsed.problem();
    }
    const JsonReader root(*parsed, std::string(file) + ": ");
    const std::string format = root.text("format");
    if (!root.failed() && format != "crossarm.limits/1") {
        root.wrong("format", "this is \"" + format + "\", not a limit file of this version",
                   "use a file with the format \"crossarm.limits/1\"");
    }
    root.only({"format", "id", "subject", "title", "edition", "applies", "note", "limits", "tables"});
    LimitSet set;
    set.id = needed_text(root, "id");
    set.subject = needed_text(root, "subject");
    set.title = needed_text(root, "title");
    set.edition = needed_text(root, "edition");
    set.applies = needed_text(root, "applies");
    set.note = root.text_or("note", "");
    const auto all_of = [&](const char* name) {
        return root.has(name) ? root.objects(name) : std::vector<JsonReader>();
    };
    for (const JsonReader& each : all_of("limits")) {
        Limit limit = read_limit(each);
        if (set.find(limit.name) != nullptr) {
            each.wrong("name", "the limit \"" + limit.name + "\" is there twice", "remove one of the two");
        }
        set.limits.push_back(std::move(limit));
    }
    for (const JsonReader& each : all_of("tables")) {
        LimitTable table = read_table(each);
        if (set.table(table.name) != nullptr) {
            each.wrong("name", "the table \"" + table.name + "\" is there twice", "remove one of the two");
        }
        set.tables.push_back(std::move(table));
    }
    if (!root.failed() && set.limits.empty() && set.tables.empty()) {
        root.wrong("limits", "the file has no figures", "add \"limits\" or \"tables\"");
    }
    return root.done(std::move(set));
}

} // namespace crossarm::model
