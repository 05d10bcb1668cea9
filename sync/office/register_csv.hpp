// The register's four lists, and whom to call, as CSV.
//
// register.csv  id,name,feeder,latitude,longitude,support,pole,customers,critical_customers,note,hospital,
//               hospital_minutes,rating_kVA,hv_kV,lv_V,make,serial,made_year,impedance_percent,oil_litres,mass_kg,no_load_loss_W,
//               load_loss_W,top_oil_rise_K,vector_group,conservator,breather,gel_kg,hv_fuse,lv_breaker
// people.csv    id,name,roles,competences
//               roles: crew, lead, office, separated by spaces
//               competences: each with its last day, separated by spaces: climb:2027-03-31
//               first_aid:2026-12-31
// utility.csv   control_room_call,emergency_call     one row
// due.csv       structure,kind,due,reason            kind: upkeep or uprating; due: 2026-03-14
// earlier.csv   structure,checkpoint,date,kind,value,unit
//               kind: grade | choice | number | numbers | text; several values are separated by spaces;
//               unit: a UCUM code, for number and numbers only
#pragma once

#include "checklist/model/register.hpp"
#include "checklist/model/result.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace crossarm::office {

/// Rows of one list, and where each stands ("due.csv:4").
template<typename T>
struct Rows {
    std::vector<T> items;
    std::vector<std::string> places;
};

/// Each adds everything wrong to `problems`; rows with something wrong in them are among the items too, so
/// that ids can still be compared.
[[nodiscard]] Rows<model::Structure> read_structures_csv(std::string_view text, const std::string& file,
                                                         std::vector<model::Problem>& problems);
/// What read_structures_csv reads back as the same structures.
[[nodiscard]] std::string write_structures_csv(const std::vector<model::Structure>& structures);
[[nodiscard]] Rows<model::Person> read_people_csv(std::string_view text, const std::string& file,
                                                  std::vector<model::Problem>& problems);
/// Exactly one row, or a problem.
[[nodiscard]] Rows<model::Utility> read_utility_csv(std::string_view text, const std::string& file,
                                                    std::vector<model::Problem>& problems);
[[nodiscard]] Rows<model::DueVisit> read_due_csv(std::string_view text, const std::string& file,
                                                 std::vector<model::Problem>& problems);
[[nodiscard]] Rows<model::EarlierReading> read_earlier_csv(std::string_view text, const std::string& file,
                                                           std::vector<model::Problem>& problems);

} // namespace crossarm::office
