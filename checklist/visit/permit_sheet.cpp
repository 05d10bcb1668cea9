// The sheet that is signed, and whose signatures stand over another one.
#include "checklist/model/canonical.hpp"
#include "checklist/model/digest.hpp"
#include "checklist/visit/permit_facts.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace crossarm::visit::permit {

namespace {

using Json = nlohmann::json;

Json written(const Proof& proof, Side side) {
    return {{"detector", proof.detector}, {"whole", is_whole(proof, side)}};
}

} // namespace

std::string sheet_text(const State& state, const std::string& structure) {
    Json sheet = {{"structure", structure},
                  {"number", state.number},
                  {"work", state.work},
                  {"limits", state.limits},
                  {"zone", state.zone},
                  {"provedHv", written(state.hv, Side::Hv)},
                  {"provedLv", written(state.lv, Side::Lv)}};
    Json& points = sheet["points"] = Json::array();
    for (const Point& p : state.points) {
        points.push_back({{"point", p.id},
                          {"device", p.device},
                          {"place", p.place},
                          {"side", word_of(p.side)},
                          {"position", p.position},
                          {"open", p.open},
                          {"locked", p.locked},
                          {"lock", p.lock},
                          {"label", p.label},
                          {"keyHeldBy", p.key_held_by}});
    }
    if (state.supplies) {
        sheet["supplies"] = model::permit::to_json(*state.supplies);
    }
    std::vector<Earth> on;
    std::ranges::copy_if(state.earths, std::back_inserter(on), [](const Earth& earth) {
        return earth.kind == EarthKind::Control && earth.earth_end && earth.line_end;
    });
    std::ranges::sort(on, {}, &Earth::id);
    Json& earths = sheet["controlEarths"] = Json::array();
    for (const Earth& e : on) {
        earths.push_back({{"earth", e.id},
                          {"side", word_of(e.side)},
                          {"place", e.place},
                          {"fixedBy", e.fixed_by},
                          {"sizeMm2", e.size_mm2}});
    }
    Json& live = sheet["liveParts"] = Json::array();
    for (const auto& part : state.live_parts) {
        live.push_back(model::permit::to_json(part));
    }
    Json& excused = sheet["earthsNotFitted"] = Json::array();
    for (const Exception& one : state.exceptions) {
        if (one.matter == "earth_not_fitted") {
            excused.push_back({{"side", one.about}, {"reason", one.reason}, {"by", one.by}});
        }
    }
    return model::canonical(sheet);
}

std::vector<std::string> stale(const State& state, const std::string& structure) {
    const std::string now = model::sha256_hex(sheet_text(state, structure));
    std::vector<std::string> parties;
    for (const Party& party : state.parties) {
        const bool accepted_other = !party.acceptance.over.empty() && party.acceptance.over != now;
        if (holds(party) && (party.issue.over != now || accepted_other)) {
            parties.push_back(party.id);
        }
    }
    return parties;
}

} // namespace crossarm::visit::permit
