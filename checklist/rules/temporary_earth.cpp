#include "checklist/rules/temporary_earth.hpp"

#include "checklist/rules/answer.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace crossarm::rules {
namespace {

using model::Grade;
using model::Quantity;
using model::Unit;
using model::Verdict;

constexpr std::string_view kSubject = "earth.temporary";

/// The smallest size that serves, and where it stands.
struct Needed {
    double mm2 = 0.0;
    double least_mm2 = 0.0; ///< before the next size is taken; 0 for a looked-up one
    model::Source source;
};

/// Seconds in a column name such as "kA_0.25".
std::optional<double> seconds_in(std::string_view column) {
    constexpr std::string_view kPrefix = "kA_";
    if (!column.starts_with(kPrefix)) {
        return std::nullopt;
    }
    column.remove_prefix(kPrefix.size());
    double seconds = 0.0;
    const auto read = std::from_chars(column.data(), column.data() + column.size(), seconds);
    return read.ec == std::errc() ? std::optional(seconds) : std::nullopt;
}

std::optional<Needed> looked_up(const model::LimitSet& set, const model::LimitTable& table,
                                const TemporaryEarthReadings& r, double least_mm2) {
    std::string best;
    double best_s = 1e9;
    for (const std::string& column : table.columns) {
        const auto seconds = seconds_in(column);
        if (seconds && *seconds >= r.clearing_s && *seconds < best_s) {
            best = column;
            best_s = *seconds;
        }
    }
    std::optional<Needed> needed;
    for (const model::LimitRow& row : table.rows) {
        const auto area = cell(table, row, "area", Unit::SquareMillimetre);
        const auto current = cell(table, row, best, Unit::KiloAmpere);
        if (area && current && *current >= r.fault_kA && *area >= least_mm2 &&
            (!needed || *area < needed->mm2)) {
            needed = Needed{*area, 0.0, source_of(set, table, row)};
        }
    }
    return needed;
}

std::optional<Needed> worked_out(const model::LimitSet& set, const model::LimitTable& table,
                                 const TemporaryEarthReadings& r, double least_mm2) {
    const auto rise_K = set.value("temperature_rise", Unit::Kelvin);
    const auto start_C = set.value("temperature_start", Unit::Celsius);
    const auto k = rise_K && start_C ? copper_k(*start_C, *start_C + *rise_K) : std::nullopt;
    const auto area = k ? fault_area_mm2(r.fault_kA, r.clearing_s, *k) : std::nullopt;
    if (!area) {
        return std::nullopt;
    }
    std::optional<Needed> needed;
    for (const model::LimitRow& row : table.rows) {
        const auto size = cell(table, row, "area", Unit::SquareMillimetre);
        if (size && *size >= std::max(*area, least_mm2) && (!needed || *size < needed->mm2)) {
            needed = Needed{*size, *area, set.source_of("temperature_rise")};
        }
    }
    return needed;
}

} // namespace

std::optional<double> copper_k(double start_C, double end_C) {
    if (!within(start_C, -50.0, 1083.0) || !within(end_C, -50.0, 1083.0) || end_C <= start_C) {
        return std::nullopt;
    }
    return 226.0 * std::sqrt(std::log((234.5 + end_C) / (234.5 + start_C)));
}

std::optional<double> fault_area_mm2(double fault_kA, double seconds, double k) {
    if (!within(fault_kA, 0.01, 200.0) || !within(seconds, 0.02, 5.0) || !within(k, 10.0, 400.0)) {
        return std::nullopt;
    }
    return 1000.0 * fault_kA * std::sqrt(seconds) / k;
}

std::optional<double> onderdonk_A(double area_cmil, double seconds, double ambient_C) {
    if (!within(area_cmil, 1.0, 1e7) || !within(seconds, 0.01, 10.0) || !within(ambient_C, -40.0, 100.0)) {
        return std::nullopt;
    }
    constexpr double kMelting_C = 1083.0;
    return area_cmil *
           std::sqrt(std::log10((kMelting_C - ambient_C) / (234.0 + ambient_C) + 1.0) / (33.0 * seconds));
}

Outcome temporary_earth(const TemporaryEarthReadings& r, const model::LimitSet& set) {
    if (!within(r.fault_kA, 0.01, 200.0) || !within(r.clearing_s, 0.02, 3.0) ||
        (r.fitted_mm2 && !within(*r.fitted_mm2, 1.0, 2000.0))) {
        return refuse(kSubject, say("no.temporary.reading"));
    }
    const model::LimitTable* withstand = set.table("withstand");
    const model::LimitTable* sizes = set.table("sizes");
    const bool by_ultimate = withstand == nullptr && sizes == nullptr;
    const model::LimitTable* printed = by_ultimate ? set.table("ultimate") : withstand;
    if (printed == nullptr && sizes == nullptr) {
        return refuse(kSubject, say("no.limit_missing", {{"limit", "withstand"}, {"set", set.title}}));
    }
    const double least_mm2 = set.value("area.least", Unit::SquareMillimetre).value_or(0.0);
    const auto needed =
        printed != nullptr ? looked_up(set, *printed, r, least_mm2) : worked_out(set, *sizes, r, least_mm2);
    const Quantity fault{r.fault_kA, Unit::KiloAmpere};
    const Quantity time{r.clearing_s, Unit::Second};
    if (!needed) {
        return refuse(kSubject,
                      say("no.temporary.none", {{"fault", fault}, {"time", time}, {"set", set.title}}));
    }
    Verdict v;
    v.subject = kSubject;
    v.source = needed->source;
    v.workings = {{"work.temporary.fault", fault, ""}, {"work.temporary.time", time, ""}};
    if (needed->least_mm2 > 0.0) {
        v.workings.push_back(
            {"work.temporary.area", {needed->least_mm2, Unit::SquareMillimetre}, "I × √t / k"});
    }
    v.workings.push_back({"work.temporary.size", {needed->mm2, Unit::SquareMillimetre}, ""});
    Places places = {
        {"fault", fault}, {"time", time}, {"needed", Quantity{needed->mm2, Unit::SquareMillimetre}}};
    v.because = say("because.temporary.needed", places);
    if (r.fitted_mm2) {
        places.emplace_back("fitted", Quantity{*r.fitted_mm2, Unit::SquareMillimetre});
        // 1 % for sizes that are rounded on the set's label (67 for 67.4 mm²).
        const bool large_enough = *r.fitted_mm2 >= 0.99 * needed->mm2;
        v.because = say("because.temporary.enough", places);
        if (!large_enough) {
            grade_as(v, Grade::Danger, model::When::BeforeSupplyReturns,
                     say("because.temporary.small", places), say("action.temporary.larger", places));
        } else if (by_ultimate) {
            grade_as(v, Grade::Watch, model::When::BeforeSupplyReturns, v.because,
                     say("action.temporary.withstand"));
        }
    }
    v.cautions = {say("caution.temporary.clamps"), say("caution.temporary.reclose"),
                  say("caution.temporary.order")};
    if (by_ultimate) {
        v.cautions.insert(v.cautions.begin(), say("caution.temporary.scrap"));
    }
    return v;
}

} // namespace crossarm::rules
