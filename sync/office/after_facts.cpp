#include "sync/office/after_facts.hpp"

namespace crossarm::office {

namespace {

using model::Quantity;
using rules::Study;
using rules::StudyFacts;

std::optional<double> runs_at(const visit::State& state) {
    const visit::Answer* answer = visit::answer_at(state, "lv_cable.runs");
    const auto* choice = answer == nullptr ? nullptr : std::get_if<model::Choice>(&answer->finding.value);
    if (choice == nullptr || choice->picked.empty()) {
        return std::nullopt;
    }
    double runs = 0.0;
    for (const char* word : {"one", "two", "three", "four"}) {
        runs += 1.0;
        if (choice->picked.front() == word) {
            return runs;
        }
    }
    return std::nullopt;
}

void recorded(const visit::State& state, const char* checkpoint, std::optional<double>& into) {
    if (const auto number = visit::number_at(state, checkpoint)) {
        into = number;
    }
}

void proposed(const StudyFacts& before, const rules::Proposal& p, StudyFacts& after) {
    if (!p.rating_kVA) {
        return;
    }
    model::Nameplate& plate = after.at.plate;
    if (p.uprate) {
        plate = {};
        plate.rating_kVA = *p.rating_kVA;
        plate.hv_kV = before.at.plate.hv_kV;
        plate.lv_V = before.at.plate.lv_V;
        plate.vector_group = before.at.plate.vector_group;
        for (const rules::StockUnit& unit : before.stock) {
            if (unit.rating_kVA == plate.rating_kVA) {
                plate.impedance_percent = unit.impedance_percent;
                plate.no_load_loss_W = unit.no_load_loss_W;
                plate.load_loss_W = unit.load_loss_W;
                plate.mass_kg = unit.mass_kg;
            }
        }
    }
    plate.hv_fuse = p.link ? rules::link_text(*p.link) : "";
    if (p.cable) {
        after.site.cable_mm2 = p.cable->area_mm2;
        after.site.cable_runs = p.cable->runs;
    }
    if (p.breakers) {
        after.site.breakers = p.breakers->count;
        after.site.breaker_A = p.breakers->rating_A;
        after.site.breaker_kA = p.breakers->icu_kA;
    }
    after.site.earth_mm2 = p.earth_mm2 ? p.earth_mm2 : after.site.earth_mm2;
}

} // namespace

std::vector<double> readings_at(const visit::State& state, const char* checkpoint) {
    std::vector<double> out;
    const visit::Answer* answer = visit::answer_at(state, checkpoint);
    if (answer == nullptr) {
        return out;
    }
    if (const auto* one = std::get_if<Quantity>(&answer->finding.value)) {
        out.push_back(one->value);
    } else if (const auto* several = std::get_if<model::Readings>(&answer->finding.value)) {
        for (const Quantity& value : several->values) {
            out.push_back(value.value);
        }
    }
    return out;
}

StudyFacts facts_after(const AfterFacts& facts, const Study& before) {
    StudyFacts after = facts.before;
    if (facts.unit == nullptr) {
        proposed(facts.before, before.proposal, after);
        return after;
    }
    const visit::State& state = facts.unit->state;
    after.at.plate = facts.unit->after;
    rules::SiteFacts& site = after.site;
    recorded(state, "lv_cable.size", site.cable_mm2);
    site.cable_runs = runs_at(state).has_value() ? runs_at(state) : site.cable_runs;
    recorded(state, "lv_breaker.count", site.breakers);
    recorded(state, "lv_breaker.rating", site.breaker_A);
    recorded(state, "lv_breaker.icu", site.breaker_kA);
    recorded(state, "hv_jumpers.size", site.hv_lead_mm2);
    const auto ohm = readings_at(state, "earth_electrodes.neutral");
    if (ohm.size() == 3) {
        site.electrode_ohm = ohm[1];
    }
    return after;
}

} // namespace crossarm::office
