#include "checklist/model/entry.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "checklist/model/json_reader.hpp"
#include "checklist/model/value_json.hpp"

#include <nlohmann/json.hpp>

namespace crossarm::model {

namespace {

using Json = nlohmann::json;

constexpr std::string_view kPermit = "permit.";

Json data_of(const Opened& body) {
    return {{"structure", body.structure},
            {"protocol", body.protocol},
            {"protocolDigest", body.protocol_digest},
            {"dayPack", body.day_pack}};
}

Json data_of(const Withdrawn& body) {
    return {{"entry", to_text(body.entry)}};
}

Json data_of(const StageFinished& body) {
    return {{"stage", body.stage}};
}

Json data_of(const DangerDecided& body) {
    return {{"entry", to_text(body.entry)}, {"decision", body.decision}, {"reason", body.reason}};
}

Json data_of(const Signed& body) {
    Json out = {{"head", body.head}, {"words", body.words}};
    if (!body.strokes.empty()) {
        out["strokes"] = body.strokes;
    }
    return out;
}

Json data_of(const BrokenOff& body) {
    return {{"reason", body.reason}};
}

Json data_of(const PermitActed& body) {
    return permit::to_json(body.act);
}

Json data_of(const OtherKind& body) {
    return Json::parse(body.data);
}

template<typename Kind>
std::string data_text(const Kind& body) {
    return canonical(data_of(body));
}

// Most entries are findings: theirs is written straight down, members in the order of RFC 8785.
std::string data_text(const Found& body) {
    std::string out = "{";
    if (!body.finding.insisted.empty()) {
        out += R"("insisted":)" + canonical_text(body.finding.insisted) + ",";
    }
    if (!body.finding.note.empty()) {
        out += R"("note":)" + canonical_text(body.finding.note) + ",";
    }
    if (body.replaces) {
        out += R"("replaces":")" + to_text(*body.replaces) + R"(",)";
    }
    return out + R"("value":)" + to_canonical(body.finding.value) + "}";
}

// Kinds that speak about a checkpoint carry it beside the data.
std::string checkpoint_of(const Body& body) {
    if (const auto* found = std::get_if<Found>(&body)) {
        return found->finding.checkpoint;
    }
    if (const auto* decided = std::get_if<DangerDecided>(&body)) {
        return decided->checkpoint;
    }
    return {};
}

Result<Body> read_body(const std::string& kind, const std::string& part, const std::string& checkpoint,
                       const JsonReader& data) {
    if (kind == "opened") {
        Opened out;
        out.structure = data.text("structure");
        out.protocol = data.text("protocol");
        out.protocol_digest = data.text("protocolDigest");
        out.day_pack = data.integer("dayPack");
        return data.done(Body(out));
    }
    if (kind == "found") {
        const Result<Value> value = value_from_json(data.raw("value"), data.place("value"));
        if (!value) {
            return value.problem();
        }
        Found out{{part, checkpoint, *value, data.text_or("insisted", ""), data.text_or("note", "")}, {}};
        if (data.has("replaces")) {
            out.replaces = data.id("replaces");
        }
        return data.done(Body(out));
    }
    if (kind == "withdrawn") {
        return data.done(Body(Withdrawn{data.id("entry")}));
    }
    if (kind == "stage_finished") {
        return data.done(Body(StageFinished{data.text("stage")}));
    }
    if (kind == "danger_decided") {
        return data.done(
            Body(DangerDecided{checkpoint, data.id("entry"), data.text("decision"), data.text("reason")}));
    }
    if (kind == "signed") {
        return data.done(Body(Signed{data.text("head"), data.text("words"), data.text_or("strokes", "")}));
    }
    if (kind == "broken_off") {
        return data.done(Body(BrokenOff{data.text("reason")}));
    }
    if (kind.starts_with(kPermit) && permit::is_act(kind.substr(kPermit.size()))) {
        PermitActed out{permit::read_act(kind.substr(kPermit.size()), data)};
        return data.done(Body(std::move(out)));
    }
    return Body(OtherKind{kind, canonical(data.json())});
}

struct KindName {
    std::string operator()(const Opened&) const { return "opened"; }
    std::string operator()(const Found&) const { return "found"; }
    std::string operator()(const Withdrawn&) const { return "withdrawn"; }
    std::string operator()(const StageFinished&) const { return "stage_finished"; }
    std::string operator()(const DangerDecided&) const { return "danger_decided"; }
    std::string operator()(const Signed&) const { return "signed"; }
    std::string operator()(const BrokenOff&) const { return "broken_off"; }
    std::string operator()(const PermitActed& body) const {
        return std::string(kPermit) + std::string(permit::name(body.act));
    }
    std::string operator()(const OtherKind& body) const { return body.kind; }
};

} // namespace

std::string kind_of(const Body& body) {
    return std::visit(KindName{}, body);
}

std::string to_canonical(const Entry& entry) {
    // The members in the order of RFC 8785: one entry after the other is written while somebody waits.
    std::string out =
        R"({"at":)" + canonical_text(to_text(entry.at)) + R"(,"by":)" + canonical_text(entry.by);
    if (const std::string checkpoint = checkpoint_of(entry.body); !checkpoint.empty()) {
        out += R"(,"checkpoint":)" + canonical_text(checkpoint);
    }
    out += R"(,"data":)" + std::visit([](const auto& body) { return data_text(body); }, entry.body);
    out += R"(,"device":)" + canonical_text(entry.device) + R"(,"id":")" + to_text(entry.id);
    out += R"(","kind":)" + canonical_text(kind_of(entry.body));
    if (const auto* found = std::get_if<Found>(&entry.body);
        found != nullptr && !found->finding.part.empty()) {
        out += R"(,"part":)" + canonical_text(found->finding.part);
    }
    out += R"(,"prev":)" + canonical_text(entry.prev) + R"(,"seq":)" + canonical(entry.seq);
    out += R"(,"visit":")" + to_text(entry.visit) + R"("})";
    return out;
}

Result<Entry> read_entry(std::string_view canonical_text, std::string_view where) {
    const Result<Json> parsed = parse_json(canonical_text, where);
    if (!parsed) {
        return parsed.problem();
    }
    return entry_from_json(*parsed, std::string(where) + ": ");
}

Result<Entry> entry_from_json(const Json& json, const std::string& place) {
    const JsonReader reader(json, place);
    Entry out;
    out.id = reader.id("id");
    out.visit = reader.id("visit");
    out.device = reader.text("device");
    out.seq = reader.integer("seq");
    out.at = reader.time("at");
    out.by = reader.text("by");
    out.prev = reader.text("prev");
    const std::string kind = reader.text("kind");
    const std::string part = reader.text_or("part", "");
    const std::string checkpoint = reader.text_or("checkpoint", "");
    const JsonReader data = reader.object("data");
    if (reader.failed()) {
        return reader.problem();
    }
    Result<Body> body = read_body(kind, part, checkpoint, data);
    if (!body) {
        return body.problem();
    }
    out.body = std::move(*body);
    return out;
}

std::string hash_of(std::string_view canonical_text) {
    return sha256_hex(canonical_text);
}

} // namespace crossarm::model
