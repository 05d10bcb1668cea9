#include "sync/bundle/register_json.hpp"

#include "checklist/model/value_json.hpp"
#include "sync/bundle/structure_fields.hpp"
#include "sync/bundle/utf8.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>

namespace crossarm::bundle {

namespace {

using Json = nlohmann::json;

constexpr std::size_t kMostCallBytes = 120;

std::string plain_id(const model::JsonReader& reader, const char* name) {
    std::string id = reader.text(name);
    if (!is_plain_id(id)) {
        reader.wrong(name, in_quotes(id) + " is not an id of letters, digits, '-', '_' and '.'",
                     "write the id as the register has it");
    }
    return id;
}

std::vector<model::Competence> read_competences(const model::JsonReader& reader) {
    std::vector<model::Competence> competences;
    if (!reader.has("competences")) {
        return competences;
    }
    for (const model::JsonReader& item : reader.objects("competences")) {
        item.only({"what", "until"});
        competences.push_back({item.text("what"), item.date("until")});
    }
    if (const auto wrong = wrong_competences(competences)) {
        reader.wrong("competences", *wrong, "give each competence once, with its last day");
    }
    return competences;
}

std::string read_call(const model::JsonReader& reader, const char* name) {
    std::string call = reader.text_or(name, "");
    if (const auto wrong = wrong_call(call)) {
        reader.wrong(name, *wrong, "write whom to call and the number, or leave it out");
    }
    return call;
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

std::optional<std::string> wrong_competences(const std::vector<model::Competence>& competences) {
    std::set<std::string_view> seen;
    for (const model::Competence& competence : competences) {
        if (std::ranges::find(model::kCompetences, competence.what) == model::kCompetences.end()) {
            std::string known;
            for (const std::string_view what : model::kCompetences) {
                known += (known.empty() ? "" : ", ") + std::string(what);
            }
            return in_quotes(competence.what) + " is not one of: " + known;
        }
        if (!seen.insert(competence.what).second) {
            return in_quotes(competence.what) + " stands here a second time";
        }
    }
    return {};
}

std::optional<std::string> wrong_call(const std::string& call) {
    if (call.size() > kMostCallBytes) {
        return "the text is longer than " + std::to_string(kMostCallBytes) + " bytes";
    }
    return {};
}

std::optional<std::string> wrong_kind(const std::string& kind) {
    if (kind != "upkeep" && kind != "uprating") {
        return in_quotes(kind) + " is not one of: upkeep, uprating";
    }
    return {};
}

Json to_json(const model::Person& person) {
    Json out = {{"id", person.id}, {"name", person.name}, {"roles", person.roles}};
    for (const model::Competence& competence : person.competences) {
        out["competences"].push_back(
            {{"what", competence.what}, {"until", model::to_text(competence.until)}});
    }
    return out;
}

model::Person read_person(const model::JsonReader& reader) {
    reader.only({"id", "name", "roles", "competences"});
    model::Person person{plain_id(reader, "id"), reader.text("name"), reader.texts("roles"),
                         read_competences(reader)};
    if (person.name.empty()) {
        reader.wrong("name", "nothing is written here", "write the person's name");
    }
    if (const auto wrong = wrong_roles(person.roles)) {
        reader.wrong("roles", *wrong, "give the roles the person has: crew, lead, office");
    }
    return person;
}

Json to_json(const model::Utility& utility) {
    Json out = Json::object();
    if (!utility.control_room_call.empty()) {
        out["control_room_call"] = utility.control_room_call;
    }
    if (!utility.emergency_call.empty()) {
        out["emergency_call"] = utility.emergency_call;
    }
    return out;
}

model::Utility read_utility(const model::JsonReader& reader) {
    reader.only({"control_room_call", "emergency_call"});
    return {read_call(reader, "control_room_call"), read_call(reader, "emergency_call")};
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
