#include "sync/bundle/recorded_plate.hpp"

#include "sync/bundle/structure_fields.hpp"

#include <algorithm>

namespace crossarm::bundle {

namespace {

using model::Nameplate;

/// Which checkpoint of the uprating protocol records which fact of the register.
struct Recorded {
    const char* checkpoint;
    const char* field;
};
constexpr Recorded kPlate[] = {
    {"plate.rating", "rating_kVA"},
    {"plate.hv", "hv_kV"},
    {"plate.lv", "lv_V"},
    {"plate.make", "make"},
    {"plate.serial", "serial"},
    {"plate.made_year", "made_year"},
    {"plate.impedance", "impedance_percent"},
    {"plate.oil", "oil_litres"},
    {"plate.mass", "mass_kg"},
    {"plate.no_load_loss", "no_load_loss_W"},
    {"plate.load_loss", "load_loss_W"},
    {"plate.top_oil_rise", "top_oil_rise_K"},
    {"plate.vector_group", "vector_group"},
    {"plate.conservator", "conservator"},
    {"breather.gel_kind", "breather"},
    {"breather.gel_mass", "gel_kg"},
    {"hv_fuses.fitted", "hv_fuse"},
    {"lv_breaker.fitted", "lv_breaker"},
};

/// A fact as the register has it. Options of the vector group are its letters written small.
Fact fact_of(const std::string& field, const model::Value& value) {
    if (const auto* number = std::get_if<model::Quantity>(&value)) {
        return number->value;
    }
    if (const auto* words = std::get_if<model::Remark>(&value)) {
        return words->text;
    }
    if (std::holds_alternative<model::NotFitted>(value)) {
        return std::string();
    }
    const auto* choice = std::get_if<model::Choice>(&value);
    if (choice == nullptr || choice->picked.size() != 1) {
        return {};
    }
    std::string picked = choice->picked.front();
    if (field == "conservator") {
        return picked == "yes";
    }
    if (field == "vector_group") {
        picked[0] = static_cast<char>(picked[0] - 'a' + 'A');
    }
    return picked;
}

const StructureField& field_named(const std::string& name) {
    const auto& all = structure_fields();
    const auto found = std::ranges::find_if(all, [&](const auto& field) { return name == field.name; });
    model::require(found != all.end(), "a recorded fact is a fact of the register");
    return *found;
}

bool is_disputed(const visit::State& state, const std::string& checkpoint) {
    return std::ranges::any_of(state.conflicts,
                               [&](const visit::Conflict& c) { return c.checkpoint == checkpoint; });
}

} // namespace

std::optional<Nameplate> recorded_plate(const visit::State& state, const Nameplate& before,
                                        std::vector<std::string>& left_out) {
    model::Structure fresh;
    fresh.plate.hv_kV = before.hv_kV;
    fresh.plate.lv_V = before.lv_V;
    fresh.plate.hv_fuse = before.hv_fuse;
    fresh.plate.lv_breaker = before.lv_breaker;
    for (const Recorded& recorded : kPlate) {
        const visit::Answer* answer = visit::answer_at(state, recorded.checkpoint);
        const Fact fact = answer == nullptr ? Fact() : fact_of(recorded.field, answer->finding.value);
        if (std::holds_alternative<std::monostate>(fact)) {
            continue;
        }
        if (is_disputed(state, recorded.checkpoint)) {
            left_out.push_back(std::string(recorded.field) + ": two tablets recorded it differently");
        } else if (const auto wrong = put(fresh, field_named(recorded.field), fact)) {
            left_out.push_back(std::string(recorded.field) + ": " + *wrong);
        }
    }
    if (fresh.plate.rating_kVA <= 0.0 || fresh.plate.serial.empty()) {
        return std::nullopt;
    }
    return fresh.plate;
}

std::vector<std::string> lettering(const model::Structure& at) {
    std::vector<std::string> lines = {at.name, at.id};
    if (at.plate.rating_kVA > 0.0) {
        lines.push_back(model::number_for_people(at.plate.rating_kVA, 1) + " kVA");
    }
    for (const std::string& text : {at.plate.make, at.plate.serial}) {
        if (!text.empty()) {
            lines.push_back(text);
        }
    }
    return lines;
}

} // namespace crossarm::bundle
