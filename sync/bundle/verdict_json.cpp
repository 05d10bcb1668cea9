#include "sync/bundle/verdict_json.hpp"

#include "checklist/model/value_json.hpp"
#include "sync/bundle/utf8.hpp"

#include <nlohmann/json.hpp>

namespace crossarm::bundle {

namespace {

using Json = nlohmann::json;
using model::JsonReader;

Json to_json(const model::Phrase& phrase) {
    Json values = Json::array();
    for (const auto& [name, value] : phrase.values) {
        if (const auto* text = std::get_if<std::string>(&value)) {
            values.push_back({{"name", name}, {"text", *text}});
        } else {
            values.push_back(
                {{"name", name}, {"quantity", model::quantity_to_json(std::get<model::Quantity>(value))}});
        }
    }
    return {{"key", phrase.key}, {"values", std::move(values)}};
}

model::Quantity read_quantity(const JsonReader& reader, const char* name) {
    const auto quantity = model::quantity_from_json(reader.raw(name), reader.place(name));
    if (!quantity) {
        reader.wrong(name, quantity.problem().what, quantity.problem().remedy);
        return {};
    }
    return *quantity;
}

model::Phrase read_phrase(const JsonReader& reader) {
    reader.only({"key", "values"});
    model::Phrase phrase{reader.text("key"), {}};
    for (const JsonReader& item : reader.objects("values")) {
        item.only({"name", "text", "quantity"});
        if (item.has("text")) {
            phrase.values.emplace_back(item.text("name"), item.text("text"));
        } else {
            phrase.values.emplace_back(item.text("name"), read_quantity(item, "quantity"));
        }
    }
    return phrase;
}

Json to_json(const model::Source& source) {
    return {{"set", source.set}, {"title", source.title}, {"clause", source.clause}, {"sure", source.sure}};
}

model::Source read_source(const JsonReader& reader) {
    reader.only({"set", "title", "clause", "sure"});
    return {reader.text("set"), reader.text("title"), reader.text("clause"), reader.text("sure")};
}

Json to_json(const model::Verdict& verdict) {
    Json workings = Json::array();
    for (const model::Working& working : verdict.workings) {
        workings.push_back({{"name", working.name},
                            {"value", model::quantity_to_json(working.value)},
                            {"how", working.how}});
    }
    Json cautions = Json::array();
    for (const model::Phrase& caution : verdict.cautions) {
        cautions.push_back(to_json(caution));
    }
    Json out = {{"subject", verdict.subject},        {"grade", model::name(verdict.grade)},
                {"action", to_json(verdict.action)}, {"because", to_json(verdict.because)},
                {"workings", std::move(workings)},   {"source", to_json(verdict.source)},
                {"cautions", std::move(cautions)}};
    if (verdict.when) {
        out["when"] = model::name(*verdict.when);
    }
    return out;
}

model::Verdict read_verdict(const JsonReader& reader) {
    reader.only({"subject", "grade", "when", "action", "because", "workings", "source", "cautions"});
    model::Verdict verdict;
    verdict.subject = reader.text("subject");
    if (const auto grade = model::grade_of(reader.text("grade"))) {
        verdict.grade = *grade;
    } else {
        reader.wrong("grade", in_quotes(reader.text("grade")) + " is not a grade",
                     "write sound, watch, repair or danger");
    }
    if (reader.has("when")) {
        verdict.when = model::when_of(reader.text("when"));
        if (!verdict.when) {
            reader.wrong("when", in_quotes(reader.text("when")) + " is not a time for an action",
                         "write before_supply_returns, within_7_days, within_30_days or at_next_visit");
        }
    }
    verdict.action = read_phrase(reader.object("action"));
    verdict.because = read_phrase(reader.object("because"));
    for (const JsonReader& item : reader.objects("workings")) {
        item.only({"name", "value", "how"});
        verdict.workings.push_back({item.text("name"), read_quantity(item, "value"), item.text("how")});
    }
    verdict.source = read_source(reader.object("source"));
    for (const JsonReader& item : reader.objects("cautions")) {
        verdict.cautions.push_back(read_phrase(item));
    }
    return verdict;
}

} // namespace

Json to_json(const visit::Assessed& assessed) {
    if (const auto* none = std::get_if<model::NoVerdict>(&assessed.outcome)) {
        return {{"checkpoint", assessed.checkpoint},
                {"noVerdict", {{"subject", none->subject}, {"why", to_json(none->why)}}}};
    }
    return {{"checkpoint", assessed.checkpoint},
            {"verdict", to_json(std::get<model::Verdict>(assessed.outcome))}};
}

visit::Assessed read_assessed(const JsonReader& reader) {
    reader.only({"checkpoint", "verdict", "noVerdict"});
    const std::string checkpoint = reader.text("checkpoint");
    if (reader.has("noVerdict")) {
        const JsonReader none = reader.object("noVerdict");
        none.only({"subject", "why"});
        return {checkpoint, model::NoVerdict{none.text("subject"), read_phrase(none.object("why"))}};
    }
    return {checkpoint, read_verdict(reader.object("verdict"))};
}

} // namespace crossarm::bundle
