#include "sync/bundle/register_json.hpp"

#include "checklist/model/value_json.hpp"
#include "sync/bundle/structure_fields.hpp"
#include "sync/bundle/utf8.hpp"

#include <nlohmann/json.hpp>

namespace crossarm::bundle {

namespace {

using Json = nlohmann::json;

std::string plain_id(const model::JsonReader& reader, const char* name) {
    std::string id = reader.text(name);
    if (!is_plain_id(id)) {
        reader.wrong(name, in_quotes(id) + " is not an id of letters, digits, '-', '_' and '.'",
                     "write the id as the register has it");
    }
    return id;
}

Json to_json(const model::LimitTable& table) {
    Json units = Json::array();
    for (const model::Unit unit : table.units) {
        units.push_back(model::code(unit));
    }
    Json rows = Json::array();
    for (const model::LimitRow& row : table.rows) {
        rows.push_back({{"key", row.key}, {"values", row.values}, {"sure", row.sure}});
    }
    return {{"name", table.name},
            {"clause", table.clause},
            {"columns", table.columns},
            {"units", std::move(units)},
            {"rows", std::move(rows)}};
}

} // namespace

std::optional<std::string> wrong_roles(const std::vector<std::string>& roles) {
    for (const std::string& role : roles) {
        if (role != "crew" && role != "lead" && role != "office") {
            return in_quotes(role) + " is not one of: crew, lead, office";
        }
    }
    return roles.empty() ? std::optional<std::string>("the person has no role") : std::nullopt;
}

std::optional<std::string> wrong_kind(const std::string& kind) {
    if (kind != "upkeep" && kind != "uprating") {
        return in_quotes(kind) + " is not one of: upkeep, uprating";
    }
    return {};
}

Json to_json(const model::Person& person) {
    return {{"id", person.id}, {"name", person.name}, {"roles", person.roles}};
}

model::Person read_person(const model::JsonReader& reader) {
    reader.only({"id", "name", "roles"});
    model::Person person{plain_id(reader, "id"), reader.text("name"), reader.texts("roles")};
    if (person.name.empty()) {
        reader.wrong("name", "nothing is written here", "write the person's name");
    }
    if (const auto wrong = wrong_roles(person.roles)) {
        reader.wrong("roles", *wrong, "give the roles the person has: crew, lead, office");
    }
    return person;
}

Json to_json(const model::DueVisit& due) {
    return {{"structure", due.structure},
            {"kind", due.kind},
            {"due", model::to_text(due.due)},
            {"reason", due.reason}};
}

model::DueVisit read_due(const model::JsonReader& reader) {
    reader.only({"structure", "kind", "due", "reason"});
    model::DueVisit due{reader.text("structure"), reader.text("kind"), reader.date("due"),
                        reader.text_or("reason", "")};
    if (const auto wrong = wrong_kind(due.kind)) {
        reader.wrong("kind", *wrong, "write upkeep or uprating");
    }
    return due;
}

Json to_json(const model::EarlierReading& earlier) {
    return {{"structure", earlier.structure},
            {"checkpoint", earlier.checkpoint},
            {"date", model::to_text(earlier.on)},
            {"value", model::value_to_json(earlier.value)}};
}

model::EarlierReading read_earlier(const model::JsonReader& reader) {
    reader.only({"structure", "checkpoint", "date", "value"});
    model::EarlierReading earlier{
        reader.text("structure"), reader.text("checkpoint"), reader.date("date"), {}};
    auto value = model::value_from_json(reader.raw("value"), reader.place("value"));
    if (value) {
        earlier.value = std::move(value).value();
    } else {
        reader.wrong("value", value.problem().what, value.problem().remedy);
    }
    return earlier;
}

Json to_json(const model::LimitSet& set) {
    Json limits = Json::array();
    for (const model::Limit& limit : set.limits) {
        limits.push_back({{"name", limit.name},
                          {"value", model::quantity_to_json(limit.value)},
                          {"clause", limit.clause},
                          {"sure", limit.sure},
                          {"note", limit.note}});
    }
    Json tables = Json::array();
    for (const model::LimitTable& table : set.tables) {
        tables.push_back(to_json(table));
    }
    return {{"format", "crossarm.limits/1"},
            {"id", set.id},
            {"subject", set.subject},
            {"title", set.title},
            {"edition", set.edition},
            {"applies", set.applies},
            {"note", set.note},
            {"limits", std::move(limits)},
            {"tables", std::move(tables)}};
}

} // namespace crossarm::bundle
