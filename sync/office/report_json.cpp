#include "checklist/model/canonical.hpp"
#include "checklist/model/value_json.hpp"
#include "sync/bundle/structure_fields.hpp"
#include "sync/bundle/verdict_json.hpp"
#include "sync/office/report_text.hpp"

#include <nlohmann/json.hpp>

namespace crossarm::office {

namespace {

using Json = nlohmann::json;

Json finding_json(const visit::Answer& answer) {
    Json out = {{"checkpoint", answer.finding.checkpoint},
                {"value", model::value_to_json(answer.finding.value)},
                {"at", model::to_text(answer.at)},
                {"by", answer.by},
                {"device", answer.device}};
    if (!answer.finding.insisted.empty()) {
        out["insisted"] = answer.finding.insisted;
    }
    if (!answer.finding.note.empty()) {
        out["note"] = answer.finding.note;
    }
    return out;
}

} // namespace

std::string report_json(const VisitRecord& record, const model::Protocol& protocol,
                        const visit::permit::Rules& rules) {
    const visit::State state = visit::fold(record.entries, rules);
    Json out = {{"visit", model::to_text(record.visit)},
                {"structure", bundle::to_json(record.structure)},
                {"protocol", record.protocol},
                {"openedAt", model::to_text(state.opened_at)},
                {"openedBy", state.opened_by},
                {"entries", state.entries},
                {"findings", Json::array()},
                {"verdicts", Json::array()},
                {"decisions", Json::array()},
                {"conflicts", Json::array()},
                {"bundles", Json::array()}};
    for (const auto& [checkpoint, answer] : state.answers) {
        out["findings"].push_back(finding_json(answer));
    }
    for (const visit::Assessed& assessed : record.verdicts) {
        out["verdicts"].push_back(bundle::to_json(assessed));
    }
    for (const visit::Decision& decision : state.decisions) {
        out["decisions"].push_back({{"checkpoint", decision.checkpoint},
                                    {"decision", decision.decision},
                                    {"reason", decision.reason},
                                    {"by", decision.by}});
    }
    for (const visit::Conflict& conflict : state.conflicts) {
        Json answers = Json::array();
        for (const visit::Answer& answer : conflict.answers) {
            answers.push_back(finding_json(answer));
        }
        out["conflicts"].push_back({{"checkpoint", conflict.checkpoint}, {"answers", std::move(answers)}});
    }
    if (state.permit.prepared) {
        Json parties = Json::array();
        for (const visit::permit::Party& party : state.permit.parties) {
            const bool back = party.holding == visit::permit::Holding::HandedBack ||
                              party.holding == visit::permit::Holding::TakenBack;
            parties.push_back({{"party", party.id},
                               {"holder", party.holder},
                               {"issuer", party.issuer},
                               {"second", party.second},
                               {"issuedAt", model::to_text(party.issued_at)},
                               {"until", model::to_text(party.until)},
                               {"isBack", back}});
        }
        out["permit"] = {{"number", state.permit.number},
                         {"parties", std::move(parties)},
                         {"earthsOn", visit::permit::earths_on(state.permit)},
                         {"exceptions", state.permit.exceptions.size()},
                         {"irregular", state.permit.irregular},
                         {"isCancelled", state.permit.cancelled}};
    }
    for (const BundleRow& row : record.bundles) {
        out["bundles"].push_back({{"digest", row.digest}, {"device", row.device}, {"seq", row.seq}});
    }
    if (state.signature) {
        out["signed"] = {{"by", state.signature->by},
                         {"at", model::to_text(state.signature->at)},
                         {"words", state.signature->words}};
    }
    if (record.protocol_digest != protocol.digest) {
        out["otherProtocol"] = true;
    }
    if (!state.broken_off.empty()) {
        out["brokenOff"] = state.broken_off;
    }
    return model::canonical(out);
}

} // namespace crossarm::office
