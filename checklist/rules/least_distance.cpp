#include "checklist/rules/least_distance.hpp"

#include "checklist/rules/answer.hpp"

namespace crossarm::rules {
namespace {

using model::Unit;

/// The first row whose band holds the voltage.
std::optional<Least> by_voltage(const model::LimitSet& set, const model::LimitTable& table, double kV) {
    for (const model::LimitRow& row : table.rows) {
        const auto from = cell(table, row, "from", Unit::Kilovolt);
        const auto up_to = cell(table, row, "up_to", Unit::Kilovolt);
        const auto least = cell(table, row, "least", Unit::Metre);
        if (from && up_to && least && kV >= *from && kV <= *up_to) {
            return Least{*least, source_of(set, table, row)};
        }
    }
    return std::nullopt;
}

std::optional<Least> by_span(const model::LimitSet& set, const model::LimitTable& table, const Place& place) {
    const auto share_percent = set.value("ends.share", Unit::Percent);
    if (!place.span_m || !share_percent) {
        return std::nullopt;
    }
    const bool at_end =
        place.from_support_m && *place.from_support_m <= *share_percent / 100.0 * *place.span_m;
    for (const model::LimitRow& row : table.rows) {
        const auto from = cell(table, row, "span_from", Unit::Metre);
        const auto up_to = cell(table, row, "span_up_to", Unit::Metre);
        const auto least = cell(table, row, at_end ? "ends" : "middle", Unit::Metre);
        if (from && up_to && least && *place.span_m > *from && *place.span_m <= *up_to) {
            return Least{*least, source_of(set, table, row)};
        }
    }
    return std::nullopt;
}

} // namespace

std::optional<Least> least_distance(const model::LimitSet& set, const Place& place) {
    if (const model::LimitTable* spans = set.table("long_span")) {
        return by_span(set, *spans, place);
    }
    if (place.insulated) {
        if (const auto least = set.value("clearance.insulated", Unit::Metre)) {
            return Least{*least, set.source_of("clearance.insulated")};
        }
    }
    const model::LimitTable* table = place.climbable ? set.table("clearance_climbable") : nullptr;
    table = table != nullptr ? table : set.table("clearance");
    return table != nullptr ? by_voltage(set, *table, place.voltage_kV) : std::nullopt;
}

} // namespace crossarm::rules
