#include "checklist/model/value_json.hpp"

#include "checklist/model/canonical.hpp"

#include <nlohmann/json.hpp>

#include <cmath>

namespace crossarm::model {

namespace {

using Json = nlohmann::json;

std::string text_of(const Quantity& quantity) {
    return R"({"unit":)" + canonical_text(code(quantity.unit)) + R"(,"value":)" +
           canonical_number(quantity.value) + "}";
}

template<typename Item, typename TextOf>
std::string list_of(const std::vector<Item>& items, const TextOf& text_of_item) {
    std::string out = "[";
    for (const Item& item : items) {
        out += (out.size() > 1 ? "," : "") + text_of_item(item);
    }
    return out + "]";
}

struct ToText {
    std::string operator()(Grade grade) const { return R"({"grade":)" + canonical_text(name(grade)) + "}"; }
    std::string operator()(const Choice& choice) const {
        return R"({"choice":)" + list_of(choice.picked, canonical_text) + "}";
    }
    std::string operator()(const Quantity& quantity) const {
        return R"({"quantity":)" + text_of(quantity) + "}";
    }
    std::string operator()(const Readings& readings) const {
        return R"({"readings":)" + list_of(readings.values, text_of) + "}";
    }
    std::string operator()(const Remark& remark) const {
        return R"({"text":)" + canonical_text(remark.text) + "}";
    }
    std::string operator()(const OutOfReach& out) const {
        return R"({"outOfReach":)" + canonical_text(out.reason) + "}";
    }
    std::string operator()(const NotFitted&) const { return R"({"notFitted":true})"; }
};

Problem not_a_value(const std::string& place) {
    return {place, "this is not a finding's value",
            "give one of grade, choice, quantity, readings, text, outOfReach, notFitted"};
}

Result<Value> read_choice(const Json& list, const std::string& place) {
    Choice out;
    for (const Json& item : list) {
        if (!item.is_string()) {
            return not_a_value(place);
        }
        out.picked.push_back(item.get<std::string>());
    }
    return out.picked.empty() ? Result<Value>(not_a_value(place)) : Result<Value>(Value(out));
}

Result<Value> read_readings(const Json& list, const std::string& place) {
    Readings out;
    for (const Json& item : list) {
        const Result<Quantity> quantity =
            quantity_from_json(item, place + "/" + std::to_string(out.values.size()));
        if (!quantity) {
            return quantity.problem();
        }
        out.values.push_back(*quantity);
    }
    return Value(out);
}

} // namespace

Json quantity_to_json(Quantity quantity) {
    return {{"value", quantity.value}, {"unit", code(quantity.unit)}};
}

Result<Quantity> quantity_from_json(const Json& json, const std::string& place) {
    const auto wrong = [&place] {
        return Problem{place, "this is not a quantity", "write {\"value\": 41.2, \"unit\": \"kV\"}"};
    };
    if (!json.is_object() || json.size() != 2 || !json.contains("value") || !json.contains("unit") ||
        !json["value"].is_number() || !json["unit"].is_string()) {
        return wrong();
    }
    const std::optional<Unit> unit = unit_of(json["unit"].get<std::string>());
    if (!unit) {
        return Problem{place + "/unit", "unknown unit " + json["unit"].dump(), "use a UCUM code such as kV"};
    }
    const auto value = json["value"].get<double>();
    return std::isfinite(value) ? Result<Quantity>(Quantity{value, *unit}) : Result<Quantity>(wrong());
}

Json value_to_json(const Value& value) {
    return Json::parse(to_canonical(value));
}

std::string to_canonical(const Value& value) {
    return std::visit(ToText{}, value);
}

Result<Value> value_from_json(const Json& json, const std::string& place) {
    if (!json.is_object() || json.size() != 1) {
        return not_a_value(place);
    }
    const std::string kind = json.begin().key();
    const Json& inner = json.begin().value();
    const std::string inner_place = place + "/" + kind;
    if (kind == "grade" && inner.is_string()) {
        const std::optional<Grade> grade = grade_of(inner.get<std::string>());
        return grade ? Result<Value>(Value(*grade)) : Result<Value>(not_a_value(inner_place));
    }
    if (kind == "choice" && inner.is_array()) {
        return read_choice(inner, inner_place);
    }
    if (kind == "quantity") {
        const Result<Quantity> quantity = quantity_from_json(inner, inner_place);
        return quantity ? Result<Value>(Value(*quantity)) : Result<Value>(quantity.problem());
    }
    if (kind == "readings" && inner.is_array()) {
        return read_readings(inner, inner_place);
    }
    if (kind == "text" && inner.is_string()) {
        return Value(Remark{inner.get<std::string>()});
    }
    if (kind == "outOfReach" && inner.is_string()) {
        return Value(OutOfReach{inner.get<std::string>()});
    }
    if (kind == "notFitted" && inner.is_boolean() && inner.get<bool>()) {
        return Value(NotFitted{});
    }
    return not_a_value(place);
}

} // namespace crossarm::model
