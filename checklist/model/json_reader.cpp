#include "checklist/model/json_reader.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <string_view>

namespace crossarm::model {

namespace {

const nlohmann::json& empty_object() {
    static const nlohmann::json kEmpty = nlohmann::json::object();
    return kEmpty;
}

} // namespace

JsonReader::JsonReader(const nlohmann::json& json, std::string place)
    : JsonReader(json, std::move(place), std::make_shared<Memory>()) {}

JsonReader::JsonReader(const nlohmann::json& json, std::string place, std::shared_ptr<Memory> memory)
    : json_(&json), place_(std::move(place)), memory_(std::move(memory)) {
    if (!json.is_object()) {
        if (!memory_->failed) {
            *memory_ = {true, {place_, "this is not an object", "write { ... } here"}};
        }
        json_ = &empty_object();
    }
}

std::string JsonReader::place(const char* name) const {
    return place_ + "/" + name;
}

const nlohmann::json& JsonReader::json() const {
    return *json_;
}

bool JsonReader::has(const char* name) const {
    return json_->contains(name);
}

void JsonReader::wrong(const char* name, const std::string& what, const std::string& remedy) const {
    if (!memory_->failed) {
        *memory_ = {true, {place(name), what, remedy}};
    }
}

const nlohmann::json* JsonReader::find(const char* name) const {
    const auto found = json_->find(name);
    if (found == json_->end()) {
        wrong(name, std::string("\"") + name + "\" is missing", "add it");
        return nullptr;
    }
    return &*found;
}

const nlohmann::json& JsonReader::raw(const char* name) const {
    const nlohmann::json* found = find(name);
    return found != nullptr ? *found : empty_object();
}

std::string JsonReader::text(const char* name) const {
    const nlohmann::json* found = find(name);
    if (found != nullptr && !found->is_string()) {
        wrong(name, "this is not a text", "write it in double quotes");
    }
    return found != nullptr && found->is_string() ? found->get<std::string>() : std::string();
}

std::string JsonReader::text_or(const char* name, const std::string& otherwise) const {
    return has(name) ? text(name) : otherwise;
}

double JsonReader::number(const char* name) const {
    const nlohmann::json* found = find(name);
    if (found == nullptr) {
        return 0.0;
    }
    if (!found->is_number() || !std::isfinite(found->get<double>())) {
        wrong(name, "this is not a number", "write a number such as 41.2");
        return 0.0;
    }
    return found->get<double>();
}

double JsonReader::number_or(const char* name, double otherwise) const {
    return has(name) ? number(name) : otherwise;
}

std::int64_t JsonReader::integer(const char* name) const {
    const double value = number(name);
    if (failed()) {
        return 0;
    }
    if (value != std::floor(value) || std::fabs(value) > 9007199254740991.0) {
        wrong(name, "this is not a whole number", "write a whole number");
        return 0;
    }
    return static_cast<std::int64_t>(value);
}

bool JsonReader::boolean_or(const char* name, bool otherwise) const {
    if (!has(name)) {
        return otherwise;
    }
    const nlohmann::json& value = (*json_)[name];
    if (!value.is_boolean()) {
        wrong(name, "this is neither true nor false", "write true or false");
        return otherwise;
    }
    return value.get<bool>();
}

Id JsonReader::id(const char* name) const {
    const std::string written = text(name);
    if (failed()) {
        return {};
    }
    const Result<Id> parsed = parse_id(written, "");
    if (!parsed) {
        wrong(name, parsed.problem().what, parsed.problem().remedy);
        return {};
    }
    return *parsed;
}

Timestamp JsonReader::time(const char* name) const {
    const std::string written = text(name);
    if (failed()) {
        return {};
    }
    const Result<Timestamp> parsed = parse_timestamp(written, "");
    if (!parsed) {
        wrong(name, parsed.problem().what, parsed.problem().remedy);
        return {};
    }
    return *parsed;
}

Date JsonReader::date(const char* name) const {
    const std::string written = text(name);
    if (failed()) {
        return {};
    }
    const Result<Date> parsed = parse_date(written, "");
    if (!parsed) {
        wrong(name, parsed.problem().what, parsed.problem().remedy);
        return {};
    }
    return *parsed;
}

JsonReader JsonReader::object(const char* name) const {
    return {raw(name), place(name), memory_};
}

std::vector<JsonReader> JsonReader::objects(const char* name) const {
    std::vector<JsonReader> out;
    const nlohmann::json* found = find(name);
    if (found == nullptr) {
        return out;
    }
    if (!found->is_array()) {
        wrong(name, "this is not a list", "write [ ... ] here");
        return out;
    }
    out.reserve(found->size());
    for (std::size_t i = 0; i < found->size(); ++i) {
        out.push_back(JsonReader((*found)[i], place(name) + "/" + std::to_string(i), memory_));
    }
    return out;
}

std::vector<std::string> JsonReader::texts(const char* name) const {
    std::vector<std::string> out;
    const nlohmann::json* found = find(name);
    if (found == nullptr) {
        return out;
    }
    if (!found->is_array() ||
        !std::ranges::all_of(*found, [](const auto& item) { return item.is_string(); })) {
        wrong(name, "this is not a list of texts", "write [\"...\", \"...\"] here");
        return out;
    }
    for (const auto& item : *found) {
        out.push_back(item.get<std::string>());
    }
    return out;
}

void JsonReader::only(std::initializer_list<const char*> known) const {
    for (const auto& [name, value] : json_->items()) {
        const std::string_view seen = name;
        if (std::ranges::none_of(known, [&](const char* one) { return seen == one; })) {
            wrong(name.c_str(), "unknown member \"" + name + "\"", "take it out or correct its name");
        }
    }
}

} // namespace crossarm::model
