// Reading limit files and looking figures up in them.
#include "checklist/model/limits.hpp"

#include "checklist/model/canonical.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>

namespace crossarm::model {

namespace {

using nlohmann::json;

constexpr std::array<std::string_view, 5> kSure = {"read", "second hand", "from memory", "derived",
                                                   "common practice"};

Problem problem(std::string_view file, const std::string& pointer, std::string what, std::string remedy) {
    return {std::string(file) + ": " + (pointer.empty() ? "/" : pointer), std::move(what), std::move(remedy)};
}

/// The object at `pointer` holds only fields we know; a mistyped name is never passed over.
Done only_fields(const json& object, std::initializer_list<std::string_view> known, std::string_view file,
                 const std::string& pointer) {
    if (!object.is_object()) {
        return problem(file, pointer, "this is not an object", "write { ... } here");
    }
    for (const auto& [name, value] : object.items()) {
        if (std::find(known.begin(), known.end(), name) == known.end()) {
            return problem(file, pointer + "/" + name, "unknown field \"" + name + "\"",
                           "remove it or mend its spelling");
        }
    }
    return {};
}

Result<std::string> text_of(const json& object, const std::string& name, std::string_view file,
                            const std::string& pointer, bool may_be_empty = false) {
    const auto at = object.find(name);
    if (at == object.end()) {
        if (may_be_empty) {
            return std::string();
        }
        return problem(file, pointer, "field \"" + name + "\" is missing", "add it");
    }
    if (!at->is_string() || (!may_be_empty && at->get_ref<const std::string&>().empty())) {
        return problem(file, pointer + "/" + name, "this is not a text or it is empty", "write a text");
    }
    return at->get<std::string>();
}

Result<double> number_of(const json& value, std::string_view file, const std::string& pointer) {
    if (!value.is_number() || !std::isfinite(value.get<double>())) {
        return problem(file, pointer, "this is not a finite number", "write a number");
    }
    return value.get<double>();
}

Result<Unit> unit_at(const json& value, std::string_view file, const std::string& pointer) {
    if (!value.is_string()) {
        return problem(file, pointer, "this is not a unit", "write a UCUM code, for example \"kV\"");
    }
    const auto unit = unit_of(value.get_ref<const std::string&>());
    if (!unit) {
        return problem(file, pointer, "unknown unit \"" + value.get<std::string>() + "\"",
                       "write a UCUM code that this program knows, for example \"kV\"");
    }
    return *unit;
}

Result<std::string> sure_of(const json& object, std::string_view file, const std::string& pointer) {
    auto sure = text_of(object, "sure", file, pointer);
    if (sure && std::find(kSure.begin(), kSure.end(), *sure) == kSure.end()) {
        return problem(file, pointer + "/sure", "unknown word \"" + *sure + "\"",
                       "write one of: read, second hand, from memory, derived, common practice");
    }
    return sure;
}

/// The array of that name; an empty one when the field is not there.
Result<json> array_of(const json& object, const std::string& name, std::string_view file,
                      const std::string& pointer) {
    const auto at = object.find(name);
    if (at == object.end()) {
        return json::array();
    }
    if (!at->is_array()) {
        return problem(file, pointer + "/" + name, "this is not a list", "write [ ... ] here");
    }
    return *at;
}

Result<Limit> read_limit(const json& from, std::string_view file, const std::string& pointer) {
    if (auto done = only_fields(from, {"name", "value", "clause", "sure", "note"}, file, pointer); !done) {
        return done.problem();
    }
    auto name = text_of(from, "name", file, pointer);
    auto clause = text_of(from, "clause", file, pointer);
    auto sure = sure_of(from, file, pointer);
    auto note = text_of(from, "note", file, pointer, true);
    for (const auto* text : {&name, &clause, &sure, &note}) {
        if (!text->ok()) {
            return text->problem();
        }
    }
    const auto value = from.find("value");
    if (value == from.end()) {
        return problem(file, pointer, "field \"value\" is missing", "add it");
    }
    const std::string at = pointer + "/value";
    if (auto done = only_fields(*value, {"value", "unit"}, file, at); !done) {
        return done.problem();
    }
    if (!value->contains("value") || !value->contains("unit")) {
        return problem(file, at, "a figure needs a number and a unit",
                       "write {\"value\": 40, \"unit\": \"kV\"}");
    }
    auto number = number_of((*value)["value"], file, at + "/value");
    if (!number) {
        return number.problem();
    }
    auto unit = unit_at((*value)["unit"], file, at + "/unit");
    if (!unit) {
        return unit.problem();
    }
    return Limit{*name, {*number, *unit}, *clause, *sure, *note};
}

Result<LimitRow> read_row(const json& from, std::size_t columns, std::string_view file,
                          const std::string& pointer) {
    if (auto done = only_fields(from, {"key", "values", "sure"}, file, pointer); !done) {
        return done.problem();
    }
    auto key = text_of(from, "key", file, pointer);
    auto sure = sure_of(from, file, pointer);
    auto values = array_of(from, "values", file, pointer);
    if (!key) {
        return key.problem();
    }
    if (!sure) {
        return sure.problem();
    }
    if (!values) {
        return values.problem();
    }
    if (values->size() != columns) {
        return problem(file, pointer + "/values", "the row does not have one number for each column",
                       "write " + std::to_string(columns) + " numbers");
    }
    LimitRow row{*key, {}, *sure};
    for (std::size_t i = 0; i < values->size(); ++i) {
        auto number = number_of((*values)[i], file, pointer + "/values/" + std::to_string(i));
        if (!number) {
            return number.problem();
        }
        row.values.push_back(*number);
    }
    return row;
}

Result<LimitTable> read_table(const json& from, std::string_view file, const std::string& pointer) {
    if (auto done = only_fields(from, {"name", "clause", "columns", "units", "rows"}, file, pointer); !done) {
        return done.problem();
    }
    auto name = text_of(from, "name", file, pointer);
    auto clause = text_of(from, "clause", file, pointer);
    if (!name) {
        return name.problem();
    }
    if (!clause) {
        return clause.problem();
    }
    LimitTable table{*name, *clause, {}, {}, {}};
    auto columns = array_of(from, "columns", file, pointer);
    auto units = array_of(from, "units", file, pointer);
    auto rows = array_of(from, "rows", file, pointer);
    for (const auto* list : {&columns, &units, &rows}) {
        if (!list->ok()) {
            return list->problem();
        }
        if (list->value().empty()) {
            return problem(file, pointer, "a table needs columns, units and rows", "add them");
        }
    }
    if (columns->size() != units->size()) {
        return problem(file, pointer + "/units", "there is not one unit for each column",
                       "write " + std::to_string(columns->size()) + " units");
    }
    for (std::size_t i = 0; i < columns->size(); ++i) {
        const auto& column = (*columns)[i];
        if (!column.is_string() || column.get_ref<const std::string&>().empty()) {
            return problem(file, pointer + "/columns/" + std::to_string(i),
                           "this is not a text or it is empty", "write a text");
        }
        table.columns.push_back(column.get<std::string>());
        auto unit = unit_at((*units)[i], file, pointer + "/units/" + std::to_string(i));
        if (!unit) {
            return unit.problem();
        }
        table.units.push_back(*unit);
    }
    for (std::size_t i = 0; i < rows->size(); ++i) {
        const std::string at = pointer + "/rows/" + std::to_string(i);
        auto row = read_row((*rows)[i], table.columns.size(), file, at);
        if (!row) {
            return row.problem();
        }
        for (const auto& other : table.rows) {
            if (other.key == row->key) {
                return problem(file, at + "/key", "the key \"" + row->key + "\" is there twice",
                               "remove one of the two rows");
            }
        }
        table.rows.push_back(*row);
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
    auto parsed = parse_json(json_text, file);
    if (!parsed) {
        return parsed.problem();
    }
    const json& root = *parsed;
    if (auto done = only_fields(
            root, {"format", "id", "subject", "title", "edition", "applies", "note", "limits", "tables"},
            file, "");
        !done) {
        return done.problem();
    }
    auto format = text_of(root, "format", file, "");
    if (!format) {
        return format.problem();
    }
    if (*format != "crossarm.limits/1") {
        return problem(file, "/format", "this is \"" + *format + "\", not a limit file of this version",
                       "use a file with the format \"crossarm.limits/1\"");
    }
    LimitSet set;
    const std::array<std::pair<const char*, std::string*>, 6> texts = {{{"id", &set.id},
                                                                        {"subject", &set.subject},
                                                                        {"title", &set.title},
                                                                        {"edition", &set.edition},
                                                                        {"applies", &set.applies},
                                                                        {"note", &set.note}}};
    for (const auto& [name, into] : texts) {
        auto text = text_of(root, name, file, "", into == &set.note);
        if (!text) {
            return text.problem();
        }
        *into = *text;
    }
    auto limits = array_of(root, "limits", file, "");
    if (!limits) {
        return limits.problem();
    }
    auto tables = array_of(root, "tables", file, "");
    if (!tables) {
        return tables.problem();
    }
    if (limits->empty() && tables->empty()) {
        return problem(file, "", "the file has no figures", "add \"limits\" or \"tables\"");
    }
    for (std::size_t i = 0; i < limits->size(); ++i) {
        const std::string at = "/limits/" + std::to_string(i);
        auto limit = read_limit((*limits)[i], file, at);
        if (!limit) {
            return limit.problem();
        }
        if (set.find(limit->name) != nullptr) {
            return problem(file, at + "/name", "the limit \"" + limit->name + "\" is there twice",
                           "remove one of the two");
        }
        set.limits.push_back(*limit);
    }
    for (std::size_t i = 0; i < tables->size(); ++i) {
        const std::string at = "/tables/" + std::to_string(i);
        auto table = read_table((*tables)[i], file, at);
        if (!table) {
            return table.problem();
        }
        if (set.table(table->name) != nullptr) {
            return problem(file, at + "/name", "the table \"" + table->name + "\" is there twice",
                           "remove one of the two");
        }
        set.tables.push_back(*table);
    }
    return set;
}

} // namespace crossarm::model
