#include "sync/office/study.hpp"

#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/office/after_sheet.hpp"
#include "sync/office/new_units.hpp"
#include "sync/office/study_desk.hpp"
#include "sync/office/study_export.hpp"
#include "sync/office/study_sheet.hpp"
#include "sync/office/verbs.hpp"

namespace crossarm::office {

namespace {

using model::Done;

Done write(const std::string& path, const std::string& text) {
    return path.empty() ? Done() : bundle::write_atomically(path, text);
}

/// The page of the last unit that a visit put up here; of what is planned when none did.
std::string after_page(const StudyDesk& desk, const model::Structure& at) {
    const NewUnit* unit = nullptr;
    for (const NewUnit& one : desk.units) {
        unit = one.structure == at.id ? &one : unit;
    }
    model::Structure before = at;
    if (unit != nullptr) {
        before.plate = unit->before;
    }
    const rules::StudyFacts facts = desk.facts(before);
    return sheet_page(after_sheet({facts, desk.library, unit}, desk.words));
}

Ending study_one(const StudyDesk& desk, const Arguments& arguments) {
    const std::string id = arguments.value("structure");
    const model::Structure* at = desk.reg.structure(id);
    if (at == nullptr) {
        const std::string near = model::nearest_structure(desk.reg, id);
        return could_not(
            {"--structure", bundle::in_quotes(id) + " is not in the register",
             near.empty() ? "write the id as it is painted on the structure" : "is it " + near + "?"});
    }
    const rules::StudyFacts facts = desk.facts(*at);
    const rules::Study study = rules::uprating_study(facts, desk.library);
    const Sheet sheet = study_sheet(facts, study, desk.words);
    for (const Done& written :
         {write(arguments.value("html"), sheet_page(sheet)),
          write(arguments.value("after"), arguments.has("after") ? after_page(desk, *at) : ""),
          write(arguments.value("materials"), materials_csv(study, desk.words)),
          write(arguments.value("csv"),
                arguments.value("csv").empty() ? "" : ranking_csv({ranked(study, *at)}))}) {
        if (!written) {
            return could_not(written.problem());
        }
    }
    return {0, arguments.has("json") ? study_json(facts, study) + "\n" : sheet_text(sheet), ""};
}

Ending study_all(const StudyDesk& desk, const Arguments& arguments, const Progress& progress) {
    const std::vector<RankedStudy> rows = ranking(desk, progress);
    if (const auto written = write(arguments.value("csv"), ranking_csv(rows)); !written) {
        return could_not(written.problem());
    }
    if (arguments.has("json")) {
        return {0, ranking_json(rows) + "\n", ""};
    }
    return {0, arguments.value("csv").empty() ? ranking_csv(rows) : "", ""};
}

} // namespace

Grammar study_grammar() {
    return {{"register", "sites", "loads", "asked", "stock", "prices", "structure", "years", "rating",
             "breakers", "cable", "html", "csv", "materials", "after", "store", "assets"},
            {"json", "all"}};
}

const char* study_help() {
    return R"(
crossarm-office study --register FILE [--sites FILE] [--loads FILE]
                      [--asked FILE] [--stock FILE] [--prices FILE] [--years N]
                      --structure ID [--rating KVA] [--breakers NxA] [--cable NxMM2]
                      [--json] [--html FILE] [--materials FILE] [--csv FILE]
                      [--store FILE] [--after FILE]
    Whether the load has outgrown a transformer, what would serve in N years
    (10), and what that asks of fuse, breakers, cable, earth and structure.
    --rating, --breakers and --cable ask about a set of your own. --html is a
    page to print, --materials the list of materials as CSV. With --store the
    register has the units that signed uprating visits put up. --after is the
    page of before and after: by the visit when there was one, else as planned.
    sites.csv     structure and what is known of the site; empty: not known
    loads.csv     structure,at,a_A,b_A,c_A,neutral_A     peaks or a history
    asked.csv     structure,name,connected_kVA,demand_factor,diversity,applied
                  applied: yes, or no when it is connected already
    stock.csv     rating_kVA,impedance_percent,no_load_loss_W,load_loss_W,
                  mass_kg,oil_litres,price
    prices.csv    energy_price,interest_percent,life_years     one row

crossarm-office study ... --all [--csv FILE] [--json] [--assets DIR]
    The same for every structure, the most urgent first, one row each.
)";
}

Ending run_study(const Arguments& arguments, const Progress& progress) {
    if (!arguments.has("register")) {
        return could_not(arguments.needed("register").problem());
    }
    if (arguments.has("all") == arguments.has("structure")) {
        return could_not(
            {"study", "name one structure with --structure, or --all", "see crossarm-office --help"});
    }
    StudyDesk desk;
    if (auto ending = fill_desk(desk, arguments)) {
        return std::move(*ending);
    }
    return arguments.has("all") ? study_all(desk, arguments, progress) : study_one(desk, arguments);
}

} // namespace crossarm::office
