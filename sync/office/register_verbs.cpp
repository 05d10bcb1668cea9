// lettering and register: what the office's register becomes by the units that visits put up.
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/recorded_plate.hpp"
#include "sync/office/new_units.hpp"
#include "sync/office/register_csv.hpp"
#include "sync/office/register_file.hpp"
#include "sync/office/verbs.hpp"

#include <variant>

namespace crossarm::office {

namespace {

using model::Result;

/// The register with the new units in it, and what there is to tell about them.
struct Brought {
    model::Register reg;
    std::string news;
};

/// An Ending when it could not be read.
std::variant<Brought, Ending> bring(const Arguments& arguments) {
    const auto path = arguments.needed("register");
    if (!path) {
        return could_not(path.problem());
    }
    RegisterFiles files;
    files.reg = *path;
    RegisterRead read = read_register(files);
    if (!read.problems.empty()) {
        return refused(read.problems);
    }
    Brought out{std::move(read.reg), ""};
    if (arguments.has("store")) {
        const auto store = open_store(arguments, OfficeStore::Make::No);
        const auto units = store ? new_units(*store) : Result<std::vector<NewUnit>>(store.problem());
        if (!units) {
            return could_not(units.problem());
        }
        for (const Uptake& uptake : take_up(out.reg, *units)) {
            out.news += uptake_text(uptake);
        }
    }
    return out;
}

} // namespace

Ending run_lettering(const Arguments& arguments) {
    const auto id = arguments.needed("structure");
    if (!id) {
        return could_not(id.problem());
    }
    const auto brought = bring(arguments);
    if (const auto* ending = std::get_if<Ending>(&brought)) {
        return *ending;
    }
    const model::Structure* at = std::get<Brought>(brought).reg.structure(*id);
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

Ending run_register(const Arguments& arguments) {
    const auto out = arguments.needed("out");
    const auto path = arguments.needed("store");
    if (!out || !path) {
        return could_not(out ? path.problem() : out.problem());
    }
    const auto brought = bring(arguments);
    if (const auto* ending = std::get_if<Ending>(&brought)) {
        return *ending;
    }
    const auto& [reg, news] = std::get<Brought>(brought);
    if (const auto written = bundle::write_atomically(*out, write_structures_csv(reg.structures)); !written) {
        return could_not(written.problem());
    }
    return {0, news + *out + ": " + std::to_string(reg.structures.size()) + " structures\n", ""};
}

} // namespace crossarm::office
