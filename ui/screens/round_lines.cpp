#include "ui/screens/round_lines.hpp"

#include <algorithm>
#include <tuple>

namespace crossarm::ui {

namespace {

// Newest visit of each structure, by the order of their ids (which begin with the time of opening).
std::optional<store::VisitRow> newest_of(const std::vector<store::VisitRow>& rows,
                                         const std::string& structure) {
    std::optional<store::VisitRow> out;
    for (const store::VisitRow& row : rows) {
        if (row.structure == structure && (!out || row.visit > out->visit)) {
            out = row;
        }
    }
    return out;
}

} // namespace

std::vector<RoundLine> round_lines(const model::Register& reg, const std::vector<store::VisitRow>& visits,
                                   const std::vector<store::OutboxRow>& outbox) {
    std::vector<RoundLine> lines;
    for (const model::Structure& structure : reg.structures) {
        RoundLine line;
        line.structure = structure.id;
        for (const model::DueVisit& due : reg.due) {
            if (due.structure == structure.id && (!line.due || due.due < *line.due)) {
                line.due = due.due;
                line.kind = due.kind;
                line.reason = due.reason;
            }
        }
        if (const auto newest = newest_of(visits, structure.id)) {
            line.visit = newest->visit;
            line.is_signed = newest->is_signed;
            for (const store::OutboxRow& row : outbox) {
                if (row.visit == newest->visit) {
                    line.bundle = row.state;
                }
            }
        }
        lines.push_back(std::move(line));
    }
    // Begun and not signed first, then by due date; what is not due comes last.
    const auto order = [](const RoundLine& line) {
        const bool open = line.visit && !line.is_signed;
        return std::tuple(!open, !line.due.has_value(), line.due.value_or(model::Date{}), line.structure);
    };
    std::ranges::sort(lines, [&](const auto& a, const auto& b) { return order(a) < order(b); });
    return lines;
}

} // namespace crossarm::ui
