#include "sync/office/study_desk.hpp"

#include "sync/bundle/assets.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/office/register_file.hpp"
#include "sync/office/verbs.hpp"

#include <algorithm>
#include <atomic>
#include <charconv>
#include <thread>

namespace crossarm::office {

namespace {

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

/// Two at a time; the outcome does not depend on who did which.
std::vector<RankedStudy> study_each(const StudyDesk& desk, const Progress& progress) {
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

} // namespace

rules::StudyFacts StudyDesk::facts(const model::Structure& at) const {
    rules::StudyFacts f;
    f.at = at;
    if (const auto found = in.loads.find(at.id); found != in.loads.end()) {
        f.samples = found->second;
    }
    if (const auto found = in.asked.find(at.id); found != in.asked.end()) {
        f.loads = found->second;
    }
    if (const auto found = in.sites.find(at.id); found != in.sites.end()) {
        f.site = found->second;
    }
    f.stock = in.stock;
    f.prices = in.prices;
    f.horizon_years = years;
    f.wish = wish;
    return f;
}

std::optional<Ending> fill_desk(StudyDesk& desk, const Arguments& arguments) {
    const auto reg = arguments.needed("register");
    if (!reg) {
        return could_not(reg.problem());
    }
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
    return std::nullopt;
}

std::vector<RankedStudy> ranking(const StudyDesk& desk, const Progress& progress) {
    std::vector<RankedStudy> rows = study_each(desk, progress);
    std::sort(rows.begin(), rows.end(), [](const RankedStudy& a, const RankedStudy& b) {
        return rules::more_urgent(a.urgency, b.urgency);
    });
    return rows;
}

} // namespace crossarm::office
