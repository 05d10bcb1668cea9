#include "sync/office/study_files.hpp"

#include "checklist/model/canonical.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/office/csv_table.hpp"

#include <charconv>
#include <cmath>
#include <cstdlib>
#include <variant>

namespace crossarm::office {

namespace {

using bundle::in_quotes;
using model::Problem;
using rules::SiteFacts;

constexpr std::size_t kMostProblems = 1000;
constexpr std::size_t kMostBytes = std::size_t{1024} * 1024 * 1024;

/// One column of sites.csv: a number with its range, or one of some words.
struct SiteColumn {
    using Number = std::optional<double> SiteFacts::*;
    using Text = std::string SiteFacts::*;
    const char* name;
    std::variant<Number, Text> member;
    double low = 0.0;
    double high = 0.0;
    std::vector<std::string> words = {};
};

const std::vector<SiteColumn>& columns() {
    static const std::vector<SiteColumn> all = {
        {"growth_percent", &SiteFacts::growth_percent, -10, 30},
        {"power_factor", &SiteFacts::power_factor, 0.3, 1},
        {"air_C", &SiteFacts::air_C, -40, 60},
        {"ground_C", &SiteFacts::ground_C, -10, 60},
        {"soil_Km_W", &SiteFacts::soil_Km_W, 0.1, 10},
        {"third_harmonic_percent", &SiteFacts::third_harmonic_percent, 0, 100},
        {"network_MVA", &SiteFacts::network_MVA, 1, 100'000},
        {"hv_earth_fault_A", &SiteFacts::hv_earth_fault_A, 1, 20'000},
        {"hv_clearing_s", &SiteFacts::hv_clearing_s, 0.02, 10},
        {"lv_clearing_s", &SiteFacts::lv_clearing_s, 0.02, 10},
        {"cable_metal", &SiteFacts::cable_metal, 0, 0, {"copper", "aluminium"}},
        {"cable_insulation", &SiteFacts::cable_insulation, 0, 0, {"xlpe", "pvc"}},
        {"cable_laid", &SiteFacts::cable_laid, 0, 0, {"e", "f", "c", "d1", "d2"}},
        {"cable_mm2", &SiteFacts::cable_mm2, 1.5, 1000},
        {"cable_runs", &SiteFacts::cable_runs, 1, 8},
        {"cable_m", &SiteFacts::cable_m, 0.5, 500},
        {"circuits_beside", &SiteFacts::circuits_beside, 0, 40},
        {"main_metal", &SiteFacts::main_metal, 0, 0, {"copper", "aluminium"}},
        {"main_mm2", &SiteFacts::main_mm2, 1.5, 1000},
        {"main_m", &SiteFacts::main_m, 1, 20'000},
        {"main_share_percent", &SiteFacts::main_share_percent, 0, 100},
        {"breakers", &SiteFacts::breakers, 1, 8},
        {"breaker_A", &SiteFacts::breaker_A, 1, 6300},
        {"breaker_kA", &SiteFacts::breaker_kA, 0.5, 200},
        {"breaker_clearing_s", &SiteFacts::breaker_clearing_s, 0.001, 60},
        {"hv_lead_mm2", &SiteFacts::hv_lead_mm2, 1.5, 1000},
        {"earth_metal", &SiteFacts::earth_metal, 0, 0, {"copper", "aluminium", "steel"}},
        {"earth_mm2", &SiteFacts::earth_mm2, 1, 2000},
        {"electrode_ohm", &SiteFacts::electrode_ohm, 0.01, 10'000},
        {"electrode_rods", &SiteFacts::electrode_rods, 1, 24},
        {"mass_limit_kg", &SiteFacts::mass_limit_kg, 1, 50'000},
        {"mass_other_kg", &SiteFacts::mass_other_kg, 0, 20'000},
        {"impulse_kV", &SiteFacts::impulse_kV, 20, 400},
        {"air_spacing_m", &SiteFacts::air_spacing_m, 0, 10},
        {"live_height_m", &SiteFacts::live_height_m, 0, 30},
    };
    return all;
}

/// A number within a range; nothing, and the problem told, for anything else. An empty cell is nothing.
std::optional<double> number(CsvTable& table, std::size_t row, const char* column, double low, double high) {
    const std::string& cell = table.cell(row, column);
    if (cell.empty()) {
        return std::nullopt;
    }
    double value = 0.0;
    const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    if (error != std::errc() || end != cell.data() + cell.size() || !(value >= low && value <= high)) {
        table.wrong(row, column,
                    in_quotes(cell) + " is not a number from " + model::canonical_number(low) + " to " +
                        model::canonical_number(high),
                    "write digits with a point, or leave it empty when it is not known");
        return std::nullopt;
    }
    return value;
}

double needed(CsvTable& table, std::size_t row, const char* column, double low, double high) {
    if (table.cell(row, column).empty()) {
        table.wrong(row, column, "nothing is written here", "write the number");
        return low;
    }
    return number(table, row, column, low, high).value_or(low);
}

/// Rows of one file handed to `take`; nothing happens without a path.
template<typename Take>
void each_row(const std::string& path, const std::vector<std::string>& names, std::vector<Problem>& problems,
              Take take) {
    if (path.empty()) {
        return;
    }
    const auto text = bundle::read_whole(path, kMostBytes);
    if (!text) {
        problems.push_back(text.problem());
        return;
    }
    CsvTable table(*text, path, names, problems);
    for (std::size_t row = 0; row < table.size() && problems.size() < kMostProblems; ++row) {
        take(table, row);
    }
}

SiteFacts read_site(CsvTable& table, std::size_t row) {
    SiteFacts site;
    for (const SiteColumn& column : columns()) {
        if (const auto* member = std::get_if<SiteColumn::Number>(&column.member)) {
            site.*(*member) = number(table, row, column.name, column.low, column.high);
            continue;
        }
        const std::string& cell = table.cell(row, column.name);
        bool known = cell.empty();
        std::string all;
        for (const std::string& word : column.words) {
            known = known || word == cell;
            all += (all.empty() ? "" : ", ") + word;
        }
        if (!known) {
            table.wrong(row, column.name, in_quotes(cell) + " is not one of: " + all, "write one of them");
        }
        site.*std::get<SiteColumn::Text>(column.member) = cell;
    }
    return site;
}

rules::LoadSample read_sample(CsvTable& table, std::size_t row) {
    rules::LoadSample sample;
    const auto at = model::parse_timestamp(table.cell(row, "at"), table.place(row) + ": at");
    if (at) {
        sample.at = *at;
    } else {
        table.wrong(row, "at", at.problem().what, at.problem().remedy);
    }
    constexpr double kMost_A = 20'000;
    sample.phase_A = {needed(table, row, "a_A", 0, kMost_A), needed(table, row, "b_A", 0, kMost_A),
                      needed(table, row, "c_A", 0, kMost_A)};
    sample.neutral_A = number(table, row, "neutral_A", 0, kMost_A);
    return sample;
}

} // namespace

std::vector<std::string> site_columns() {
    std::vector<std::string> names;
    for (const SiteColumn& column : columns()) {
        names.emplace_back(column.name);
    }
    return names;
}

StudyInputs read_study_files(const StudyFiles& files, std::vector<Problem>& problems) {
    StudyInputs in;
    std::vector<std::string> site_names = site_columns();
    site_names.insert(site_names.begin(), "structure");
    each_row(files.sites, site_names, problems, [&](CsvTable& table, std::size_t row) {
        if (!in.sites.emplace(table.cell(row, "structure"), read_site(table, row)).second) {
            table.wrong(row, "structure", "this structure is there twice", "remove one of the two rows");
        }
    });
    each_row(files.loads, {"structure", "at", "a_A", "b_A", "c_A", "neutral_A"}, problems,
             [&](CsvTable& table, std::size_t row) {
                 in.loads[table.cell(row, "structure")].push_back(read_sample(table, row));
             });
    each_row(files.asked, {"structure", "name", "connected_kVA", "demand_factor", "diversity", "applied"},
             problems, [&](CsvTable& table, std::size_t row) {
                 const std::string& applied = table.cell(row, "applied");
                 if (applied != "yes" && applied != "no") {
                     table.wrong(row, "applied", in_quotes(applied) + " is neither yes nor no",
                                 "write yes when it is not connected yet");
                 }
                 in.asked[table.cell(row, "structure")].push_back(
                     {table.cell(row, "name"), needed(table, row, "connected_kVA", 0.01, 10'000),
                      needed(table, row, "demand_factor", 0.01, 1), needed(table, row, "diversity", 1, 20),
                      applied == "yes"});
             });
    each_row(files.stock,
             {"rating_kVA", "impedance_percent", "no_load_loss_W", "load_loss_W", "mass_kg", "oil_litres",
              "price"},
             problems, [&](CsvTable& table, std::size_t row) {
                 in.stock.push_back(
                     {needed(table, row, "rating_kVA", 5, 5000),
                      number(table, row, "impedance_percent", 0.5, 20),
                      number(table, row, "no_load_loss_W", 1, 100'000),
                      number(table, row, "load_loss_W", 1, 500'000), number(table, row, "mass_kg", 1, 20'000),
                      number(table, row, "oil_litres", 1, 10'000), number(table, row, "price", 0, 1e9)});
             });
    each_row(files.prices, {"energy_price", "interest_percent", "life_years"}, problems,
             [&](CsvTable& table, std::size_t row) {
                 in.prices = {number(table, row, "energy_price", 0, 1e6),
                              needed(table, row, "interest_percent", 0, 30),
                              static_cast<int>(std::lround(needed(table, row, "life_years", 1, 60)))};
             });
    return in;
}

} // namespace crossarm::office
