#include "sync/bundle/structure_fields.hpp"

#include "checklist/model/canonical.hpp"
#include "sync/bundle/utf8.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <type_traits>

namespace crossarm::bundle {

namespace {

using model::Nameplate;
using model::Structure;

template<typename T>
struct IsOptional : std::false_type {};
template<typename T>
struct IsOptional<std::optional<T>> : std::true_type {};

template<typename T>
T& at(Structure& structure, T Structure::* member) {
    return structure.*member;
}
template<typename T>
T& at(Structure& structure, T Nameplate::* member) {
    return structure.plate.*member;
}
template<typename T>
const T& at(const Structure& structure, T Structure::* member) {
    return structure.*member;
}
template<typename T>
const T& at(const Structure& structure, T Nameplate::* member) {
    return structure.plate.*member;
}

using Wrong = std::optional<std::string>;

Wrong put_text(std::string& into, const StructureField& field, const Fact& fact) {
    const auto* text = std::get_if<std::string>(&fact);
    if (text == nullptr) {
        return "this is not a text";
    }
    if (static_cast<double>(text->size()) > field.high) {
        return "the text is longer than " + model::canonical_number(field.high) + " bytes";
    }
    if (!field.words.empty() && std::ranges::find(field.words, *text) == field.words.end()) {
        std::string words;
        for (const std::string_view word : field.words) {
            words += (words.empty() ? "" : ", ") + std::string(word);
        }
        return in_quotes(*text) + " is not one of: " + words;
    }
    if (std::string_view(field.name) == "id" && !is_plain_id(*text)) {
        return in_quotes(*text) + " is not an id of letters, digits, '-', '_' and '.'";
    }
    into = *text;
    return {};
}

Wrong check_number(const StructureField& field, const Fact& fact, bool whole) {
    const auto* number = std::get_if<double>(&fact);
    if (number == nullptr) {
        return "this is not a number";
    }
    if (!(*number >= field.low && *number <= field.high)) {
        return model::canonical_number(*number) + " is not from " + model::canonical_number(field.low) +
               " to " + model::canonical_number(field.high);
    }
    if (whole && *number != std::floor(*number)) {
        return model::canonical_number(*number) + " is not a whole number";
    }
    return {};
}

template<typename T>
Wrong put_fact(T& into, const StructureField& field, const Fact& fact) {
    if constexpr (std::is_same_v<T, std::string>) {
        return put_text(into, field, fact);
    } else if constexpr (std::is_same_v<T, bool>) {
        const auto* yes_no = std::get_if<bool>(&fact);
        if (yes_no == nullptr) {
            return "this is neither yes nor no";
        }
        into = *yes_no;
        return {};
    } else {
        constexpr bool kWhole = std::is_same_v<T, int> || std::is_same_v<T, std::optional<int>>;
        Wrong wrong = check_number(field, fact, kWhole);
        if (!wrong) {
            using Number = std::conditional_t<kWhole, int, double>;
            into = static_cast<Number>(std::get<double>(fact));
        }
        return wrong;
    }
}

std::vector<StructureField> make_fields() {
    using S = Structure;
    using P = Nameplate;
    return {
        {"id",
         &S::id,
         true,
         0,
         40,
         {},
         "write the number that is painted on the structure, for example QM-0107"},
        {"name", &S::name, true, 0, 80, {}, "write the place's name"},
        {"feeder", &S::feeder, true, 0, 80, {}, "write the feeder's name"},
        {"latitude", &S::latitude, true, -90, 90, {}, "write degrees north (WGS 84), for example -47.1122"},
        {"longitude",
         &S::longitude,
         true,
         -180,
         180,
         {},
         "write degrees east (WGS 84), for example -121.404"},
        {"support", &S::support, true, 0, 20, {"two-pole", "single-pole"}, "write two-pole or single-pole"},
        {"pole", &S::pole, true, 0, 20, {"wood", "concrete", "steel"}, "write wood, concrete or steel"},
        {"customers",
         &S::customers,
         true,
         0,
         100'000,
         {},
         "write how many customers it serves, for example 42"},
        {"critical_customers",
         &S::critical_customers,
         false,
         0,
         100'000,
         {},
         "write how many of the customers are hospitals, pumping stations and the like, or leave it empty"},
        {"note", &S::note, false, 0, 2000, {}, "write the known hazards in words, or leave it empty"},
        {"hospital",
         &S::hospital,
         false,
         0,
         120,
         {},
         "write the nearest hospital with an emergency room, or leave it empty"},
        {"hospital_minutes",
         &S::hospital_minutes,
         false,
         1,
         1440,
         {},
         "write the minutes by road to that hospital, for example 35, or leave it empty"},
        {"rating_kVA", &P::rating_kVA, true, 5, 5000, {}, "write the rating in kVA, for example 100"},
        {"hv_kV", &P::hv_kV, true, 1, 36, {}, "write the HV voltage in kV, for example 11"},
        {"lv_V", &P::lv_V, true, 100, 1000, {}, "write the no-load LV voltage in V, for example 433"},
        {"make", &P::make, false, 0, 80, {}, "write the maker's name, or leave it empty"},
        {"serial", &P::serial, false, 0, 80, {}, "write the serial number, or leave it empty"},
        {"made_year",
         &P::made_year,
         false,
         1900,
         2199,
         {},
         "write the year with four digits, or leave it empty"},
        {"impedance_percent",
         &P::impedance_percent,
         false,
         0.5,
         25,
         {},
         "write the impedance in percent, for example 4.5, or leave it empty"},
        {"oil_litres", &P::oil_litres, false, 5, 20'000, {}, "write the oil in litres, or leave it empty"},
        {"mass_kg", &P::mass_kg, false, 20, 30'000, {}, "write the total mass in kg, or leave it empty"},
        {"no_load_loss_W",
         &P::no_load_loss_W,
         false,
         1,
         20'000,
         {},
         "write the loss in W, or leave it empty"},
        {"load_loss_W",
         &P::load_loss_W,
         false,
         1,
         100'000,
         {},
         "write the load loss at 75 °C in W, or leave it empty"},
        {"top_oil_rise_K",
         &P::top_oil_rise_K,
         false,
         10,
         100,
         {},
         "write the top-oil temperature rise in K, or leave it empty"},
        {"vector_group", &P::vector_group, false, 0, 20, {}, "write the vector group, for example Dyn11"},
        {"conservator", &P::conservator, true, 0, 0, {}, "write yes or no"},
        {"breather",
         &P::breather,
         false,
         0,
         20,
         {"", "blue", "orange", "none"},
         "write the colour of the dry gel, blue or orange; none for a sealed tank; empty when not known"},
        {"gel_kg", &P::gel_kg, false, 0.01, 50, {}, "write the gel in kg, or leave it empty"},
        {"hv_fuse", &P::hv_fuse, false, 0, 80, {}, "write the fitted HV fuse link, or leave it empty"},
        {"lv_breaker", &P::lv_breaker, false, 0, 80, {}, "write the LV breaker, or leave it empty"},
    };
}

struct WriteFact {
    nlohmann::json& out;
    const Structure& structure;
    const char* name;

    template<typename M>
    void operator()(M member) const {
        const auto& value = at(structure, member);
        using T = std::remove_cvref_t<decltype(value)>;
        if constexpr (IsOptional<T>::value) {
            if (value) {
                out[name] = *value;
            }
        } else if constexpr (std::is_same_v<T, std::string>) {
            if (!value.empty()) {
                out[name] = value;
            }
        } else {
            out[name] = value;
        }
    }
};

Fact fact_of(const nlohmann::json& json) {
    if (json.is_string()) {
        return json.get<std::string>();
    }
    if (json.is_number()) {
        return json.get<double>();
    }
    if (json.is_boolean()) {
        return json.get<bool>();
    }
    return {};
}

} // namespace

const std::vector<StructureField>& structure_fields() {
    static const std::vector<StructureField> fields = make_fields();
    return fields;
}

bool is_plain_id(std::string_view id) {
    return !id.empty() && id.size() <= 40 && std::ranges::all_of(id, [](char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' ||
               c == '_' || c == '.';
    });
}

Wrong put(Structure& structure, const StructureField& field, const Fact& fact) {
    if (std::holds_alternative<std::monostate>(fact) ||
        (field.needed && std::holds_alternative<std::string>(fact) && std::get<std::string>(fact).empty())) {
        return field.needed ? Wrong("nothing is written here") : Wrong();
    }
    return std::visit([&](auto member) { return put_fact(at(structure, member), field, fact); },
                      field.member);
}

bool is_number(const StructureField& field) {
    return std::visit(
        [](auto member) {
            using T = std::remove_cvref_t<decltype(at(std::declval<Structure&>(), member))>;
            return !std::is_same_v<T, std::string> && !std::is_same_v<T, bool>;
        },
        field.member);
}

bool is_yes_no(const StructureField& field) {
    return std::holds_alternative<bool Nameplate::*>(field.member);
}

Wrong contradiction(const Structure& structure) {
    if (structure.critical_customers > structure.customers) {
        return std::to_string(structure.critical_customers) + " critical customers are more than the " +
               std::to_string(structure.customers) + " customers in all";
    }
    return {};
}

nlohmann::json to_json(const Structure& structure) {
    nlohmann::json out = nlohmann::json::object();
    for (const StructureField& field : structure_fields()) {
        std::visit(WriteFact{out, structure, field.name}, field.member);
    }
    return out;
}

Structure read_structure(const model::JsonReader& reader) {
    Structure structure;
    for (const auto& [name, value] : reader.json().items()) {
        if (std::ranges::none_of(structure_fields(), [&](const auto& field) { return name == field.name; })) {
            reader.wrong(name.c_str(), "unknown member \"" + name + "\"", "take it out or correct its name");
        }
    }
    for (const StructureField& field : structure_fields()) {
        if (!reader.has(field.name)) {
            if (field.needed) {
                reader.wrong(field.name, "\"" + std::string(field.name) + "\" is missing", field.remedy);
            }
            continue;
        }
        const nlohmann::json& json = reader.raw(field.name);
        const Fact fact = fact_of(json);
        Wrong wrong = std::holds_alternative<std::monostate>(fact) ? Wrong("this is no plain value")
                                                                   : put(structure, field, fact);
        if (wrong) {
            reader.wrong(field.name, *wrong, field.remedy);
        }
    }
    if (const Wrong wrong = contradiction(structure)) {
        reader.wrong("critical_customers", *wrong, "correct one of the two");
    }
    return structure;
}

} // namespace crossarm::bundle
