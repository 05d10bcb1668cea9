#include "checklist/rules/uprating_materials.hpp"

#include "checklist/rules/uprating_check.hpp"

#include <cmath>

namespace crossarm::rules {
namespace {

using model::Phrase;
using model::Quantity;
using model::Unit;

constexpr double kEnds = 1.1;

class List {
public:
    void add(Goes goes, const char* what, Places places, double quantity, Unit unit = Unit::One) {
        lines_.push_back({goes, say(what, std::move(places)), {quantity, unit}});
    }
    std::vector<Material> take() { return std::move(lines_); }

private:
    std::vector<Material> lines_;
};

std::string text_or_dash(const std::string& text) {
    return text.empty() ? "-" : text;
}

void transformer(List& list, const StudyFacts& f, const Proposal& p) {
    const auto& plate = f.at.plate;
    list.add(Goes::New, "material.uprating.transformer",
             {{"rating", kilo_volt_ampere(*p.rating_kVA)},
              {"hv", Quantity{plate.hv_kV, Unit::Kilovolt}},
              {"lv", Quantity{plate.lv_V, Unit::Volt}},
              {"group", text_or_dash(plate.vector_group)}},
             1);
    list.add(Goes::Down, "material.uprating.transformer_down",
             {{"rating", kilo_volt_ampere(plate.rating_kVA)},
              {"make", text_or_dash(plate.make)},
              {"serial", text_or_dash(plate.serial)}},
             1);
    list.add(Goes::New, "material.uprating.gel", {}, 1);
    list.add(Goes::New, "material.uprating.lettering", {{"rating", kilo_volt_ampere(*p.rating_kVA)}}, 1);
    list.add(Goes::Again, "material.uprating.arresters", {}, 3);
}

void high_side(List& list, const StudyFacts& f, const Proposal& p) {
    if (p.link) {
        if (link_of(f.at.plate.hv_fuse) == p.link) {
            list.add(Goes::Again, "material.uprating.link", {{"link", link_text(*p.link)}}, 3);
        } else {
            list.add(Goes::New, "material.uprating.link", {{"link", link_text(*p.link)}}, 3);
            list.add(Goes::Down, "material.uprating.link", {{"link", text_or_dash(f.at.plate.hv_fuse)}}, 3);
        }
    } else {
        list.add(Goes::New, "material.uprating.link_open", {}, 3);
        list.add(Goes::Down, "material.uprating.link", {{"link", text_or_dash(f.at.plate.hv_fuse)}}, 3);
    }
    if (f.site.hv_lead_mm2) {
        list.add(Goes::Again, "material.uprating.hv_lead", {{"size", square_mm(*f.site.hv_lead_mm2)}}, 3);
    }
}

void low_side(List& list, const StudyFacts& f, const Proposal& p) {
    if (p.breakers) {
        list.add(p.keep_breakers ? Goes::Again : Goes::New, "material.uprating.breaker",
                 {{"rating", ampere(p.breakers->rating_A)}, {"icu", kilo_ampere(p.breakers->icu_kA)}},
                 p.breakers->count);
    }
    if (!p.keep_breakers && !f.at.plate.lv_breaker.empty()) {
        list.add(Goes::Down, "material.uprating.breaker_down", {{"breaker", f.at.plate.lv_breaker}},
                 f.site.breakers.value_or(1.0));
    }
    const auto metres = [&](double runs) {
        return f.site.cable_m ? std::ceil(*f.site.cable_m * runs * kEnds) : 0.0;
    };
    if (p.cable) {
        const Places places = {{"size", square_mm(p.cable->area_mm2)},
                               {"metal", f.site.cable_metal},
                               {"insulation", f.site.cable_insulation}};
        list.add(p.keep_cable ? Goes::Again : Goes::New,
                 f.site.cable_m ? "material.uprating.cable" : "material.uprating.cable_measure", places,
                 p.keep_cable ? f.site.cable_m.value_or(0.0) * p.cable->runs : metres(p.cable->runs),
                 Unit::Metre);
        list.add(Goes::New, "material.uprating.cleat", {}, 2.0 * p.cable->runs);
    }
    if (!p.keep_cable && f.site.cable_mm2) {
        list.add(Goes::Down, "material.uprating.cable_down", {{"size", square_mm(*f.site.cable_mm2)}},
                 f.site.cable_m.value_or(0.0) * f.site.cable_runs.value_or(1.0), Unit::Metre);
    }
    if (p.lugs) {
        list.add(Goes::New,
                 p.lugs->lug == Metal::Bimetal ? "material.uprating.lug_bimetal" : "material.uprating.lug",
                 {{"size", square_mm(p.lugs->area_mm2)}, {"die", count(p.lugs->die_code)}},
                 p.lugs->on_bushings + p.lugs->on_breakers);
        list.add(Goes::New, "material.uprating.bolts", {}, p.lugs->on_bushings + p.lugs->on_breakers);
    }
}

void earth_side(List& list, const StudyFacts& f, const Proposal& p) {
    if (p.earth_mm2) {
        list.add(p.keep_earth ? Goes::Again : Goes::New, "material.uprating.earth",
                 {{"size", square_mm(*p.earth_mm2)},
                  {"metal", f.site.earth_metal.empty() ? std::string("copper") : f.site.earth_metal}},
                 1);
    }
    if (p.rods_to_add && *p.rods_to_add > 0) {
        list.add(Goes::New, "material.uprating.rod", {}, *p.rods_to_add);
    }
}

} // namespace

std::string_view name(Goes goes) {
    switch (goes) {
    case Goes::New:
        return "new";
    case Goes::Down:
        return "down";
    case Goes::Again:
        return "again";
    }
    return "";
}

std::vector<Material> materials(const StudyFacts& facts, const Proposal& proposal) {
    if (!proposal.uprate || !proposal.rating_kVA) {
        return {};
    }
    List list;
    transformer(list, facts, proposal);
    high_side(list, facts, proposal);
    low_side(list, facts, proposal);
    earth_side(list, facts, proposal);
    return list.take();
}

} // namespace crossarm::rules
