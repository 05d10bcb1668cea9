// What an uprating study needs besides the register, from CSV files.
//
// sites.csv   structure and the columns of site_columns(); an empty cell: not known
// loads.csv   structure,at,a_A,b_A,c_A,neutral_A          recorded load, peaks or a history; at: RFC 3339
// asked.csv   structure,name,connected_kVA,demand_factor,diversity,applied     applied: yes, or no when it is
//             connected already
// stock.csv   rating_kVA,impedance_percent,no_load_loss_W,load_loss_W,mass_kg,oil_litres,price
// prices.csv  energy_price,interest_percent,life_years    one row, one currency for all
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/rules/uprating_facts.hpp"

#include <map>
#include <string>
#include <vector>

namespace crossarm::office {

/// Paths; empty for none.
struct StudyFiles {
    std::string sites;
    std::string loads;
    std::string asked;
    std::string stock;
    std::string prices;
};

struct StudyInputs {
    std::map<std::string, rules::SiteFacts> sites;
    std::map<std::string, std::vector<rules::LoadSample>> loads;
    std::map<std::string, std::vector<rules::BilledLoad>> asked;
    std::vector<rules::StockUnit> stock;
    rules::Prices prices;
};

/// Columns of sites.csv behind "structure".
[[nodiscard]] std::vector<std::string> site_columns();
/// Everything wrong is added to `problems`, at most about a thousand.
[[nodiscard]] StudyInputs read_study_files(const StudyFiles& files, std::vector<model::Problem>& problems);

} // namespace crossarm::office
