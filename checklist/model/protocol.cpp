// Reading a protocol file, and finding things in it.
#include "checklist/model/protocol.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "checklist/model/nearest.hpp"
#include "checklist/model/protocol_check.hpp"
#include "checklist/model/protocol_fields.hpp"
#include "checklist/model/protocol_input.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace crossarm::model {

namespace {

constexpr const char* kFormat = "crossarm.protocol/1";
constexpr std::size_t kShortText = 60;
constexpr std::size_t kLongText = 300;

template<typename T>
const T* find_by_id(const std::vector<T>& all, std::string_view id) {
    const auto found = std::ranges::find(all, id, &T::id);
    return found == all.end() ? nullptr : &*found;
}

Stage read_stage(const JsonReader& from) {
    known_members(from, {"id", "title", "purpose", "order"});
    return {id_text(from, "id"), sentence(from, "title", 1, kShortText),
            sentence(from, "purpose", 1, kLongText),
            one_of<Order>(from, "order",
                          {{"read_then_do", Order::ReadThenDo}, {"do_then_confirm", Order::DoThenConfirm}})};
}

Part read_part(const JsonReader& from) {
    known_members(from, {"id", "title", "beyond_reach"});
    if (!from.has("beyond_reach")) {
        from.wrong("beyond_reach", "\"beyond_reach\" is missing", "write true or false");
    }
    return {id_text(from, "id"), sentence(from, "title", 1, kShortText),
            from.boolean_or("beyond_reach", true)};
}

// The values that each fact of the plate can have in a condition.
const std::vector<std::pair<std::string, std::vector<std::string>>>& plate_facts() {
    static const std::vector<std::pair<std::string, std::vector<std::string>>> kFacts = {
        {"conservator", {"yes", "no"}},
        {"breather", {"blue", "orange", "none", ""}},
        {"hv_fuse", {"fitted", ""}},
    };
    return kFacts;
}

Condition read_condition(const JsonReader& from) {
    known_members(from, {"checkpoint", "any_of", "nameplate", "is"});
    Condition out;
    if (from.has("nameplate") == from.has("checkpoint")) {
        from.wrong("checkpoint", "a condition asks either a checkpoint or the nameplate",
                   "write \"checkpoint\" and \"any_of\", or \"nameplate\" and \"is\"");
        return out;
    }
    const bool asks_plate = from.has("nameplate");
    const char* values = asks_plate ? "is" : "any_of";
    if (from.has(asks_plate ? "any_of" : "is")) {
        from.wrong(asks_plate ? "any_of" : "is", std::string("this belongs to the other kind of condition"),
                   std::string("write \"") + values + "\" instead");
    }
    std::vector<std::string> listed = from.texts(values);
    no_more_than(from, values, 20, listed.size());
    if (listed.empty()) {
        from.wrong(values, "no value is listed", "list at least one");
    }
    if (!asks_plate) {
        out.checkpoint = from.text("checkpoint");
        out.any_of = std::move(listed);
        return out;
    }
    const auto& known = one_of<std::vector<std::string>>(from, "nameplate", plate_facts());
    for (std::size_t i = 0; i < listed.size(); ++i) {
        if (std::ranges::find(known, listed[i]) == known.end()) {
            from.wrong(("is/" + std::to_string(i)).c_str(), unknown_word("value", listed[i], known),
                       "write a value that this fact of the plate can have");
        }
    }
    out.nameplate = from.text("nameplate");
    out.is = std::move(listed);
    return out;
}

Checkpoint read_checkpoint(const JsonReader& from) {
    known_members(from, {"id", "part", "stage", "title", "how", "cautions", "input", "needed", "out_of_reach",
                         "not_fitted", "asked_when", "bars_climbing", "feeds"});
    Checkpoint out;
    out.id = id_text(from, "id", /*dotted=*/true);
    out.part = from.text_or("part", "");
    out.stage = from.text("stage");
    out.title = sentence(from, "title", 1, kShortText);
    out.how = sentence(from, "how", 20, 400);
    out.cautions = sentences(from, "cautions", 1, kLongText);
    no_more_than(from, "cautions", 10, out.cautions.size());
    out.input = read_input(from.object("input"));
    out.needed = from.boolean_or("needed", true);
    out.may_be_out_of_reach = out.stage == "work";
    if (from.has("out_of_reach")) {
        out.may_be_out_of_reach = one_of<bool>(from, "out_of_reach", {{"allowed", true}, {"never", false}});
    }
    out.may_be_not_fitted = from.boolean_or("not_fitted", false);
    if (from.has("asked_when")) {
        for (const JsonReader& item : from.objects("asked_when")) {
            out.asked_when.push_back(read_condition(item));
        }
        no_more_than(from, "asked_when", 10, out.asked_when.size());
    }
    out.bars_climbing = from.boolean_or("bars_climbing", false);
    if (from.has("feeds")) {
        out.feeds = id_text(from, "feeds", /*dotted=*/true);
    }
    return out;
}

KeyCheckpoints read_keys(const JsonReader& from) {
    known_members(from, {"crew", "energise", "stays_off"});
    return {from.text("crew"), from.text("energise"), from.text("stays_off")};
}

Protocol read_top(const JsonReader& from) {
    Protocol out;
    if (from.text("format") != kFormat) {
        from.wrong("format", "this is not a protocol that this program reads",
                   std::string("take a file of format ") + kFormat);
        return out;
    }
    known_members(from,
                  {"format", "id", "edition", "kind", "title", "stages", "parts", "keys", "checkpoints"});
    out.id = id_text(from, "id");
    out.edition = whole(from, "edition", 1, 1'000'000);
    out.kind = one_of<std::string>(from, "kind", {{"upkeep", "upkeep"}, {"uprating", "uprating"}});
    out.title = sentence(from, "title", 1, kShortText);
    for (const JsonReader& item : from.objects("stages")) {
        out.stages.push_back(read_stage(item));
    }
    for (const JsonReader& item : from.objects("parts")) {
        out.parts.push_back(read_part(item));
    }
    for (const JsonReader& item : from.objects("checkpoints")) {
        out.checkpoints.push_back(read_checkpoint(item));
    }
    no_more_than(from, "parts", 100, out.parts.size());
    no_more_than(from, "checkpoints", 1000, out.checkpoints.size());
    out.keys = read_keys(from.object("keys"));
    return out;
}

} // namespace

const Checkpoint* Protocol::checkpoint(std::string_view wanted) const {
    return find_by_id(checkpoints, wanted);
}

const Part* Protocol::part(std::string_view wanted) const {
    return find_by_id(parts, wanted);
}

const Stage* Protocol::stage(std::string_view wanted) const {
    return find_by_id(stages, wanted);
}

std::size_t Protocol::stage_index(std::string_view wanted) const {
    return static_cast<std::size_t>(std::ranges::find(stages, wanted, &Stage::id) - stages.begin());
}

Result<Protocol> read_protocol(std::string_view json_text, std::string_view file) {
    const std::string name(file);
    const Result<nlohmann::json> json = parse_json(json_text, file);
    if (!json) {
        return json.problem();
    }
    if (!json->is_object()) {
        return Problem{name + ": /", "this is not an object", "write { ... } here"};
    }
    const JsonReader top(*json, name + ": ");
    Protocol out = read_top(top);
    if (top.failed()) {
        return top.problem();
    }
    if (const Done done = check_protocol(out, name); !done) {
        return done.problem();
    }
    out.digest = sha256_hex(json_text);
    return out;
}

} // namespace crossarm::model
