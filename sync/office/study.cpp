#include "sync/office/study.hpp"

#include "sync/bundle/assets.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/office/after_sheet.hpp"
#include "sync/office/new_units.hpp"
#include "sync/office/register_file.hpp"
#include "sync/office/study_export.hpp"
#include "sync/office/study_files.hpp"
#include "sync/office/study_sheet.hpp"
#include "sync/office/verbs.hpp"

#include <algorithm>
#include <atomic>
#include <charconv>
#include <thread>

namespace crossarm::office {

namespace {

using model::Done;
using model::Problem;
using model::Result;

/// A number behind a name; `usual` when the name was not given.
Result<double> number_behind(const Arguments& arguments, const char* name, double usual, double low,
                             double high) {
    const std::string text = arguments.value(name);
    if (text.empty()) {
        return usual;
    }
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !(value >= low && value <= high)) {
        return Problem{"--" + std::string(name), bundle::in_quotes(text) + " is not a possible number here",
                       "see crossarm-office --help"};
    }
    return value;
}

/// "2x400": how many, and of what.
Result<std::pair<int, double>> several(const Arguments& arguments, const char* name) {
    const std::string text = arguments.value(name);
    const std::size_t x = text.find('x');
    int count = 0;
    double of = 0.0;
    if (x != std::string::npos) {
        const auto a = std::from_chars(text.data(), text.data() + x, count);
        const auto b = std::from_chars(text.data() + x + 1, text.data() + text.size(), of);
        if (a.ptr == text.data() + x && b.ptr == text.data() + text.size() && count >= 1 && count <= 8 &&
            of >= 1.0 && of <= 6300.0) {
            return std::pair(count, of);
        }
    }
    return Problem{"--" + std::string(name), bundle::in_quotes(text) + " is not a number and a size",
                   "write for example 2x400"};
}

Result<rules::Wish> wish_of(const Arguments& arguments) {
    rules::Wish wish;
    if (arguments.has("rating")) {
        const auto rating = number_behind(arguments, "rating", 0.0, 5.0, 5000.0);
        if (!rating) {
            return rating.problem();
        }
        wish.rating_kVA = *rating;
    }
    if (arguments.has("breakers")) {
        const auto ways = several(arguments, "breakers");
        if (!ways) {
            return ways.problem();
        }
        wish.breakers = rules::Breakers{ways->first, ways->second, 0.0};
    }
    if (arguments.has("cable")) {
        const auto runs = several(arguments, "cable");
        if (!runs) {
            return runs.problem();
        }
        wish.cable = rules::Cable{runs->second, runs->first};
    }
    return wish;
}

/// Everything that a study of any structure needs.
struct Desk {
    model::Register reg;
    StudyInputs in;
    model::LimitLibrary library;
    model::Words words;
    rules::Wish wish;
    std::vector<NewUnit> units; ///< of the office store
    int years = 10;

    [[nodiscard]] rules::StudyFacts facts(const model::Structure& at) const {
        rules::StudyFacts f;
        f.at = at;
        if (const auto loads = in.loads.find(at.id); loads != in.loads.end()) {
            f.samples = loads->second;
        }
        if (const auto asked = in.asked.find(at.id); asked != in.asked.end()) {
            f.loads = asked->second;
        }
        if (const auto site = in.sites.find(at.id); site != in.sites.end()) {
            f.site = site->second;
        }
        f.stock = in.stock;
        f.prices = in.prices;
        f.horizon_years = years;
        f.wish = wish;
        return f;
    }
};

Done write(const std::string& path, const std::string& text) {
    return path.empty() ? Done() : bundle::write_atomically(path, text);
}

/// The page of the last unit that a visit put up here; of what is planned when none did.
std::string after_page(const Desk& desk, const model::Structure& at) {
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

Ending study_one(const Desk& desk, const Arguments& arguments) {
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

/// Two at a time; the outcome does not depend on who did which.
std::vector<RankedStudy> study_each(const Desk& desk, const Progress& progress) {
    const auto& structures = desk.reg.structures;
    std::vector<RankedStudy> rows(structures.size());
    std::atomic<std::size_t> next{0};
    std::atomic<std::size_t> done{0};
    const auto work = [&](bool reports) {
        for (std::size_t i = next++; i < structures.size(); i = next++) {
            rows[i] = ranked(rules::uprating_study(desk.facts(structures[i]), desk.library), structures[i]);
            ++done;
            if (reports && progress) {
                progress(done, structures.size());
            }
        }
    };
    std::thread other(work, false);
    work(true);
    other.join();
    if (progress) {
        progress(structures.size(), structures.size());
    }
    return rows;
}

Ending study_all(const Desk& desk, const Arguments& arguments, const Progress& progress) {
    std::vector<RankedStudy> rows = study_each(desk, progress);
    std::sort(rows.begin(), rows.end(), [](const RankedStudy& a, const RankedStudy& b) {
        return rules::more_urgent(a.urgency, b.urgency);
    });
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
    const auto reg = arguments.needed("register");
    if (!reg) {
        return could_not(reg.problem());
    }
    if (arguments.has("all") == arguments.has("structure")) {
        return could_not(
            {"study", "name one structure with --structure, or --all", "see crossarm-office --help"});
    }
    Desk desk;
    const auto wish = wish_of(arguments);
    const auto years = number_behind(arguments, "years", 10.0, 0.0, 40.0);
    if (!wish || !years) {
        return could_not(wish ? years.problem() : wish.problem());
    }
    desk.wish = *wish;
    desk.years = static_cast<int>(*years);
    const auto assets =
        arguments.has("assets") ? Result<std::string>(arguments.value("assets")) : bundle::assets_dir();
    if (!assets) {
        return could_not(assets.problem());
    }
    auto library = bundle::load_limits(*assets);
    auto words = bundle::load_words(*assets, "en");
    if (!library || !words) {
        return could_not(library ? words.problem() : library.problem());
    }
    desk.library = std::move(*library);
    desk.words = std::move(*words);
    RegisterFiles register_files;
    register_files.reg = *reg;
    RegisterRead read = read_register(register_files);
    desk.reg = std::move(read.reg);
    desk.in = read_study_files({arguments.value("sites"), arguments.value("loads"), arguments.value("asked"),
                                arguments.value("stock"), arguments.value("prices")},
                               read.problems);
    if (!read.problems.empty()) {
        return refused(read.problems);
    }
    if (arguments.has("store")) {
        const auto store = OfficeStore::open(arguments.value("store"), OfficeStore::Make::No);
        auto units = store ? new_units(*store) : Result<std::vector<NewUnit>>(store.problem());
        if (!units) {
            return could_not(units.problem());
        }
        desk.units = std::move(*units);
        (void)take_up(desk.reg, desk.units);
    }
    return arguments.has("all") ? study_all(desk, arguments, progress) : study_one(desk, arguments);
}

} // namespace crossarm::office
