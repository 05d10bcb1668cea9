// The office's register from its files: CSV (register_csv.hpp) or JSON, told apart by the name's end.
//
// JSON: {"format":"crossarm.register/1","structures":[...],"people":[...],"due":[...],"earlier":[...],
// "utility":{...}}; what is empty may be left out. A structure's members are named like the columns of
// register.csv, numbers as numbers, conservator true or false; what is not known is left out. Earlier
// readings carry their value as entries do: {"quantity":{"value":41.2,"unit":"kV"}}.
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/model/result.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace crossarm::office {

/// Paths; empty for none. All but the first may add to what a JSON register has itself.
struct RegisterFiles {
    std::string reg;
    std::string people;
    std::string due;
    std::string earlier;
    std::string utility = {}; ///< whom to call
};

/// The whole register or, when anything at all is wrong, nothing of it and everything that is wrong (at most
/// 1 000 problems).
struct RegisterRead {
    model::Register reg;
    std::vector<model::Problem> problems;
};
[[nodiscard]] RegisterRead read_register(const RegisterFiles& files);

/// The register as a JSON register file.
[[nodiscard]] std::string write_register_json(const model::Register& reg);

} // namespace crossarm::office
