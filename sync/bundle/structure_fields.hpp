// The facts of a structure as they stand in files: one name and one range for CSV columns and JSON members
// alike.
#pragma once

#include "checklist/model/json_reader.hpp"
#include "checklist/model/register.hpp"

#include <nlohmann/json_fwd.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace crossarm::bundle {

/// One fact. Names carry the unit: "rating_kVA". Ranges are what a distribution transformer can have at all
/// (common practice, no source); they catch a slipped digit, they judge nothing.
struct StructureField {
    using Member =
        std::variant<std::string model::Structure::*, double model::Structure::*, int model::Structure::*,
                     std::optional<int> model::Structure::*, std::string model::Nameplate::*,
                     double model::Nameplate::*, bool model::Nameplate::*,
                     std::optional<int> model::Nameplate::*, std::optional<double> model::Nameplate::*>;

    const char* name;
    Member member;
    bool needed = false;
    double low = 0.0;                    ///< of a number, included
    double high = 0.0;                   ///< of a number, included; of a text the most bytes
    std::vector<std::string_view> words; ///< when not empty: the only texts allowed
    const char* remedy;                  ///< "write the rating in kVA, for example 100"
};

/// In the order of the register file's columns.
[[nodiscard]] const std::vector<StructureField>& structure_fields();

/// A fact as a file gives it. Nothing: the file leaves it open.
using Fact = std::variant<std::monostate, std::string, double, bool>;

/// Puts `fact` into `structure`. Returns what is wrong with it ("7000 is not from 5 to 5000"), or nothing.
[[nodiscard]] std::optional<std::string> put(model::Structure& structure, const StructureField& field,
                                             const Fact& fact);
/// True when the field holds a number, for readers of plain text.
[[nodiscard]] bool is_number(const StructureField& field);
[[nodiscard]] bool is_yes_no(const StructureField& field);
/// What the facts say together: no more critical customers than customers. Returns what is wrong, or nothing.
[[nodiscard]] std::optional<std::string> contradiction(const model::Structure& structure);

/// Facts that are not known are left out.
[[nodiscard]] nlohmann::json to_json(const model::Structure& structure);
/// The first thing wrong is remembered by `reader`.
[[nodiscard]] model::Structure read_structure(const model::JsonReader& reader);

/// Ids of structures and people: 1 to 40 letters, digits, '-', '_' or '.'.
[[nodiscard]] bool is_plain_id(std::string_view id);

} // namespace crossarm::bundle
