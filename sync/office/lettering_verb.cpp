// lettering: what the painter puts on a structure.
#include "sync/bundle/recorded_plate.hpp"
#include "sync/office/new_units.hpp"
#include "sync/office/register_file.hpp"
#include "sync/office/verbs.hpp"

namespace crossarm::office {

using model::Result;

Ending run_lettering(const Arguments& arguments) {
    const auto reg = arguments.needed("register");
    const auto id = arguments.needed("structure");
    if (!reg || !id) {
        return could_not(reg ? id.problem() : reg.problem());
    }
    RegisterFiles files;
    files.reg = *reg;
    RegisterRead read = read_register(files);
    if (!read.problems.empty()) {
        return refused(read.problems);
    }
    if (arguments.has("store")) {
        const auto store = open_store(arguments, OfficeStore::Make::No);
        const auto units = store ? new_units(*store) : Result<std::vector<NewUnit>>(store.problem());
        if (!units) {
            return could_not(units.problem());
        }
        (void)take_up(read.reg, *units);
    }
    const model::Structure* at = read.reg.structure(*id);
    if (at == nullptr) {
        return could_not({"--structure", "\"" + *id + "\" is not in the register",
                          "write the id as it is painted on the structure"});
    }
    std::string out;
    for (const std::string& line : bundle::lettering(*at)) {
        out += line + "\n";
    }
    return {0, out, ""};
}

} // namespace crossarm::office
