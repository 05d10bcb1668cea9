// A made-up structure that its load has outgrown, with every fact of its site, and the limit sets as shipped.
#pragma once

#include "checklist/rules/uprating_study.hpp"
#include "tests/support/shipped.hpp"

#include <regex>
#include <set>

namespace crossarm::tests {

inline const model::LimitLibrary& shipped_library() {
    static const model::LimitLibrary all = [] {
        const auto assets = std::filesystem::path(CROSSARM_SOURCE_DIR) / "assets";
        model::LimitLibrary out;
        std::set<std::filesystem::path> files(std::filesystem::directory_iterator(assets / "limits"),
                                              std::filesystem::directory_iterator{});
        for (const std::filesystem::path& file : files) {
            out.sets.push_back(shipped_limits(file.stem().string()));
        }
        const std::string text = text_of_file(assets / "chosen_limits.json");
        const std::regex pair("\"([^\"]+)\": *\"([^\"]+)\"");
        for (std::sregex_iterator it(text.begin(), text.end(), pair), end; it != end; ++it) {
            out.chosen.emplace_back((*it)[1], (*it)[2]);
        }
        return out;
    }();
    return all;
}

/// 200 kVA under a peak of 300 A on phase A (225 kVA asked of the rating), growing by 1.8 % a year.
inline rules::StudyFacts outgrown() {
    rules::StudyFacts f;
    f.at.id = "QM-0110";
    f.at.support = "two-pole";
    f.at.plate.rating_kVA = 200.0;
    f.at.plate.impedance_percent = 4.5;
    f.at.plate.no_load_loss_W = 450.0;
    f.at.plate.load_loss_W = 2950.0;
    f.at.plate.hv_fuse = "25 K";
    f.at.plate.lv_breaker = "315 A MCCB";
    f.samples = {{{1'784'000'000'000, -480}, {300.0, 268.0, 251.0}, 50.0}};
    f.loads = {{"Cold store", 20.0, 0.8, 1.2, true}};
    rules::SiteFacts& s = f.site;
    s.growth_percent = 1.8;
    s.power_factor = 0.9;
    s.air_C = 35.0;
    s.network_MVA = 120.0;
    s.hv_earth_fault_A = 40.0;
    s.hv_clearing_s = 1.0;
    s.lv_clearing_s = 0.5;
    s.cable_metal = "aluminium";
    s.cable_insulation = "xlpe";
    s.cable_laid = "e";
    s.cable_mm2 = 185.0;
    s.cable_runs = 1.0;
    s.cable_m = 8.0;
    s.circuits_beside = 0.0;
    s.main_metal = "aluminium";
    s.main_mm2 = 120.0;
    s.main_m = 210.0;
    s.main_share_percent = 35.0;
    s.breakers = 1.0;
    s.breaker_A = 315.0;
    s.breaker_kA = 25.0;
    s.hv_lead_mm2 = 95.0;
    s.earth_metal = "copper";
    s.earth_mm2 = 50.0;
    s.electrode_ohm = 5.4;
    s.electrode_rods = 4.0;
    s.mass_limit_kg = 2000.0;
    s.mass_other_kg = 250.0;
    s.impulse_kV = 75.0;
    s.air_spacing_m = 0.26;
    s.live_height_m = 3.2;
    for (const auto& [rating, no_load, load, mass, price] :
         {std::tuple(200.0, 450.0, 2950.0, 900.0, 5600.0), std::tuple(250.0, 530.0, 3300.0, 1080.0, 6600.0),
          std::tuple(315.0, 620.0, 3900.0, 1280.0, 7900.0), std::tuple(400.0, 760.0, 4800.0, 1480.0, 9400.0),
          std::tuple(500.0, 900.0, 5700.0, 1800.0, 11'300.0)}) {
        f.stock.push_back({rating, 4.5, no_load, load, mass, std::nullopt, price});
    }
    f.prices = {0.11, 6.0, 25};
    return f;
}

/// The answer of one check; fails the test when the study has none of that name.
inline const rules::Outcome& check_named(const rules::Study& study, const std::string& name) {
    for (const rules::StudyCheck& check : study.checks) {
        if (check.name == name) {
            return check.outcome;
        }
    }
    FAIL("no check " << name);
    return study.checks.front().outcome;
}

} // namespace crossarm::tests
