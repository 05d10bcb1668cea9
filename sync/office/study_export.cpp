#include "sync/office/study_export.hpp"

#include "checklist/model/canonical.hpp"
#include "checklist/model/value_json.hpp"
#include "sync/bundle/verdict_json.hpp"
#include "sync/office/csv.hpp"
#include "sync/office/study_sheet.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace crossarm::office {

namespace {

using Json = nlohmann::json;
using model::Unit;

/// At most three decimals: what follows is no knowledge.
double rounded(double x) {
    return std::round(x * 1000.0) / 1000.0;
}

void put(Json& into, const char* name, const std::optional<double>& value) {
    if (value) {
        into[name] = rounded(*value);
    }
}

std::string number(const std::optional<double>& value) {
    return value ? model::canonical_number(rounded(*value)) : "";
}

Json proposal_json(const rules::Proposal& p) {
    Json out = Json::object();
    put(out, "rating_kVA", p.rating_kVA);
    put(out, "fault_kA", p.fault_kA);
    put(out, "earth_mm2", p.earth_mm2);
    out["uprate"] = p.uprate;
    if (p.link) {
        out["link"] = rules::link_text(*p.link);
    }
    if (p.breakers) {
        out["breakers"] = {{"count", p.breakers->count},
                           {"rating_A", p.breakers->rating_A},
                           {"icu_kA", p.breakers->icu_kA},
                           {"keep", p.keep_breakers}};
    }
    if (p.cable) {
        out["cable"] = {{"runs", p.cable->runs}, {"area_mm2", p.cable->area_mm2}, {"keep", p.keep_cable}};
    }
    return out;
}

Json row_json(const rules::RatingRow& row) {
    Json out = {{"rating_kVA", row.rating_kVA},
                {"hv_A", rounded(row.hv_A)},
                {"lv_A", rounded(row.lv_A)},
                {"headroom_now_kVA", rounded(row.headroom_now_kVA)},
                {"headroom_horizon_kVA", rounded(row.headroom_horizon_kVA)},
                {"serves", row.serves},
                {"inStock", row.in_stock}};
    put(out, "hot_spot_C", row.hot_spot_C);
    put(out, "ageing", row.ageing);
    return out;
}

Json demand_json(const rules::Demand& d) {
    Json out = {{"recorded", d.recorded},
                {"now_kVA", rounded(d.now_kVA)},
                {"total_kVA", rounded(d.total_kVA)},
                {"applied_kVA", rounded(d.applied_kVA)},
                {"connected_kVA", rounded(d.connected_kVA)},
                {"horizon_kVA", rounded(d.horizon_kVA)},
                {"horizon_kW", rounded(d.horizon_kW)},
                {"neutral_A", rounded(d.neutral_A)}};
    if (d.recorded) {
        out["peakAt"] = model::to_text(d.peak.at);
        out["peak_A"] = {rounded(d.peak.phase_A[0]), rounded(d.peak.phase_A[1]), rounded(d.peak.phase_A[2])};
    }
    put(out, "loadFactor", d.load_factor);
    put(out, "lossLoadFactor", d.loss_load_factor);
    return out;
}

Json alternative_json(const rules::Alternative& a) {
    Json out = {{"kind", a.kind},
                {"rating_kVA", a.rating_kVA},
                {"serves", a.serves},
                {"headroom_now_kVA", rounded(a.headroom_now_kVA)},
                {"headroom_horizon_kVA", rounded(a.headroom_horizon_kVA)},
                {"usualLosses", a.losses_usual}};
    put(out, "price", a.price);
    if (a.cost) {
        out["firstYear_kWh"] = rounded(a.cost->first_year_kWh);
        out["life_kWh"] = rounded(a.cost->all_kWh);
        put(out, "lossesWorth", a.cost->energy_now);
        put(out, "allWorth", a.cost->all_now);
    }
    return out;
}

} // namespace

RankedStudy ranked(const rules::Study& study, const model::Structure& at) {
    RankedStudy out;
    out.urgency = rules::urgency_of(study, at);
    out.name = at.name;
    out.feeder = at.feeder;
    out.present_kVA = at.plate.rating_kVA;
    if (study.demand) {
        out.now_kVA = study.demand->now_kVA;
        out.horizon_kVA = study.demand->horizon_kVA;
    }
    out.hot_spot_C = study.hot_spot_now_C;
    out.ageing = study.ageing_now;
    out.proposal = study.proposal;
    for (const rules::RatingRow& row : study.rows) {
        if (study.proposal.rating_kVA == row.rating_kVA) {
            out.headroom_now_kVA = row.headroom_now_kVA;
            out.headroom_horizon_kVA = row.headroom_horizon_kVA;
            out.hv_A = row.hv_A;
            out.lv_A = row.lv_A;
        }
    }
    for (const rules::StudyCheck& check : study.checks) {
        if (const auto* verdict = std::get_if<model::Verdict>(&check.outcome)) {
            out.worst = std::max(out.worst.value_or(verdict->grade), verdict->grade);
        }
    }
    out.fail = study.count(model::Grade::Repair);
    out.marginal = study.count(model::Grade::Watch);
    out.pass = study.count(model::Grade::Sound);
    out.none = study.without_verdict();
    return out;
}

std::string study_json(const rules::StudyFacts& facts, const rules::Study& study) {
    Json out = {{"format", "crossarm.study/1"},
                {"structure", study.structure},
                {"name", facts.at.name},
                {"feeder", facts.at.feeder},
                {"present_kVA", facts.at.plate.rating_kVA},
                {"horizonYears", facts.horizon_years},
                {"proposal", proposal_json(study.proposal)},
                {"checks", Json::array()},
                {"ratings", Json::array()},
                {"alternatives", Json::array()},
                {"conditions", Json::array()},
                {"materials", Json::array()}};
    if (study.demand) {
        out["demand"] = demand_json(*study.demand);
    }
    put(out, "shareNow_percent", study.share_now_percent);
    put(out, "hotSpotNow_C", study.hot_spot_now_C);
    put(out, "ageingNow", study.ageing_now);
    put(out, "yearsLeft", study.years_left);
    for (const rules::StudyCheck& check : study.checks) {
        Json one = bundle::to_json(visit::Assessed{check.name, check.outcome});
        one["check"] = check.name;
        one["result"] = result_of(check.outcome);
        one.erase("checkpoint");
        out["checks"].push_back(std::move(one));
    }
    for (const rules::RatingRow& row : study.rows) {
        out["ratings"].push_back(row_json(row));
    }
    for (const rules::Alternative& a : study.alternatives) {
        out["alternatives"].push_back(alternative_json(a));
    }
    for (const rules::Condition& c : study.conditions) {
        Json one = {
            {"laid", std::string(rules::name(c.laid))}, {"around_C", c.around_C}, {"enough", c.enough}};
        put(one, "carries_A", c.carries_A);
        if (c.soil_Km_W > 0.0) {
            one["soil_Km_W"] = c.soil_Km_W;
        }
        out["conditions"].push_back(std::move(one));
    }
    for (const rules::Material& m : study.materials) {
        Json places = Json::object();
        for (const auto& [name, value] : m.what.values) {
            const auto* text = std::get_if<std::string>(&value);
            places[name] =
                text != nullptr ? Json(*text) : model::quantity_to_json(std::get<model::Quantity>(value));
        }
        out["materials"].push_back({{"goes", std::string(rules::name(m.goes))},
                                    {"item", m.what.key},
                                    {"places", std::move(places)},
                                    {"quantity", model::quantity_to_json(m.quantity)}});
    }
    return model::canonical(out);
}

std::string ranking_json(const std::vector<RankedStudy>& rows) {
    Json list = Json::array();
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const RankedStudy& r = rows[i];
        Json one = {{"rank", i + 1},
                    {"structure", r.urgency.structure},
                    {"name", r.name},
                    {"feeder", r.feeder},
                    {"present_kVA", r.present_kVA},
                    {"known", r.urgency.known},
                    {"proposal", proposal_json(r.proposal)},
                    {"fail", r.fail},
                    {"marginal", r.marginal},
                    {"pass", r.pass},
                    {"none", r.none}};
        put(one, "yearsLeft", r.urgency.years_left);
        put(one, "now_kVA", r.now_kVA);
        put(one, "horizon_kVA", r.horizon_kVA);
        if (r.urgency.known) {
            one["shareNow_percent"] = rounded(r.urgency.share_percent);
        }
        put(one, "hotSpot_C", r.hot_spot_C);
        put(one, "ageing", r.ageing);
        put(one, "headroom_now_kVA", r.headroom_now_kVA);
        put(one, "headroom_horizon_kVA", r.headroom_horizon_kVA);
        put(one, "hv_A", r.hv_A);
        put(one, "lv_A", r.lv_A);
        list.push_back(std::move(one));
    }
    return model::canonical({{"format", "crossarm.study-ranking/1"}, {"structures", std::move(list)}});
}

std::string ranking_csv(const std::vector<RankedStudy>& rows) {
    std::string out = csv_line({"rank",
                                "structure",
                                "name",
                                "feeder",
                                "present_kVA",
                                "now_kVA",
                                "share_now_percent",
                                "hot_spot_C",
                                "ageing",
                                "years_left",
                                "horizon_kVA",
                                "proposed_kVA",
                                "headroom_now_kVA",
                                "headroom_horizon_kVA",
                                "hv_A",
                                "lv_A",
                                "hv_fuse",
                                "breakers",
                                "breaker_A",
                                "breaker_kA",
                                "cable_runs",
                                "cable_mm2",
                                "fault_kA",
                                "fail",
                                "marginal",
                                "pass",
                                "none"});
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const RankedStudy& r = rows[i];
        const auto& p = r.proposal;
        const auto& b = p.breakers;
        const auto& c = p.cable;
        out += csv_line({std::to_string(i + 1),
                         r.urgency.structure,
                         r.name,
                         r.feeder,
                         number(r.present_kVA),
                         number(r.now_kVA),
                         r.urgency.known ? number(r.urgency.share_percent) : "",
                         number(r.hot_spot_C),
                         number(r.ageing),
                         number(r.urgency.years_left),
                         number(r.horizon_kVA),
                         number(p.rating_kVA),
                         number(r.headroom_now_kVA),
                         number(r.headroom_horizon_kVA),
                         number(r.hv_A),
                         number(r.lv_A),
                         p.link ? rules::link_text(*p.link) : "",
                         b ? std::to_string(b->count) : "",
                         b ? number(b->rating_A) : "",
                         b ? number(b->icu_kA) : "",
                         c ? std::to_string(c->runs) : "",
                         c ? number(c->area_mm2) : "",
                         number(p.fault_kA),
                         std::to_string(r.fail),
                         std::to_string(r.marginal),
                         std::to_string(r.pass),
                         std::to_string(r.none)});
    }
    return out;
}

std::string materials_csv(const rules::Study& study, const model::Words& words) {
    std::string out = csv_line({"structure", "goes", "item", "quantity", "unit"});
    for (const rules::Material& m : study.materials) {
        out += csv_line({study.structure, std::string(rules::name(m.goes)), words.say(m.what),
                         m.quantity.value > 0.0 ? model::canonical_number(m.quantity.value) : "",
                         m.quantity.unit == Unit::One ? "" : std::string(model::code(m.quantity.unit))});
    }
    return out;
}

} // namespace crossarm::office
