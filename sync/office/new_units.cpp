#include "sync/office/new_units.hpp"

#include "checklist/model/entry.hpp"
#include "checklist/store/database.hpp"
#include "sync/bundle/recorded_plate.hpp"
#include "sync/bundle/utf8.hpp"
#include "sync/office/visit_record.hpp"

#include <algorithm>

namespace crossarm::office {

namespace {

using model::Done;
using model::Nameplate;
using model::Result;

std::string picked(const visit::State& state, const char* checkpoint) {
    const visit::Answer* answer = visit::answer_at(state, checkpoint);
    const auto* choice = answer == nullptr ? nullptr : std::get_if<model::Choice>(&answer->finding.value);
    return choice == nullptr || choice->picked.empty() ? "" : choice->picked.front();
}

bool same_unit(const Nameplate& a, const Nameplate& b) {
    return a.serial == b.serial && a.make == b.make && a.rating_kVA == b.rating_kVA;
}

/// Visits that began under the protocol "uprating". Ids rise with time.
Result<std::vector<model::Id>> uprating_visits(const OfficeStore& store) {
    std::vector<model::Id> out;
    const auto read = store.work([&](store::Database& database) -> Done {
        store::Statement rows(database, "SELECT text FROM entry WHERE seq = 1 AND "
                                        "text LIKE '%\"protocol\":\"uprating\"%' ORDER BY visit");
        while (rows.step()) {
            const auto entry = model::read_entry(rows.text(0), store.path());
            if (!entry) {
                return entry.problem();
            }
            const auto* opened = std::get_if<model::Opened>(&entry->body);
            if (opened != nullptr && opened->protocol == "uprating" &&
                (out.empty() || out.back() != entry->visit)) {
                out.push_back(entry->visit);
            }
        }
        return {};
    });
    return read ? Result<std::vector<model::Id>>(std::move(out))
                : Result<std::vector<model::Id>>(read.problem());
}

Uptake::Kind taken_up(model::Register& reg, const NewUnit& unit) {
    const auto row = std::ranges::find(reg.structures, unit.structure, &model::Structure::id);
    if (row == reg.structures.end()) {
        return Uptake::Kind::NoRow;
    }
    if (unit.beside) {
        const bool known = std::ranges::any_of(
            reg.structures, [&](const model::Structure& s) { return same_unit(s.plate, unit.after); });
        return known ? Uptake::Kind::Known : Uptake::Kind::Beside;
    }
    if (same_unit(row->plate, unit.after)) {
        return Uptake::Kind::Known;
    }
    if (!same_unit(row->plate, unit.before)) {
        return Uptake::Kind::Disputed;
    }
    row->plate = unit.after;
    return Uptake::Kind::TakenUp;
}

/// The register has a unit that a later visit put up: what came before it is history.
bool is_history(const model::Register& reg, const std::vector<NewUnit>& units, std::size_t at) {
    const model::Structure* row = reg.structure(units[at].structure);
    return row != nullptr && std::any_of(units.begin() + static_cast<std::ptrdiff_t>(at) + 1, units.end(),
                                         [&](const NewUnit& later) {
                                             return later.structure == row->id && !later.beside &&
                                                    same_unit(row->plate, later.after);
                                         });
}

} // namespace

Result<std::vector<NewUnit>> new_units(const OfficeStore& store) {
    const auto visits = uprating_visits(store);
    if (!visits) {
        return visits.problem();
    }
    std::vector<NewUnit> out;
    for (const model::Id& id : *visits) {
        const auto record = read_visit(store, id);
        if (!record) {
            return record.problem();
        }
        NewUnit unit;
        unit.state = visit::fold(record->entries);
        if (!unit.state.signature || picked(unit.state, "tank.set") != "bolted") {
            continue;
        }
        unit.visit = id;
        unit.structure = unit.state.structure;
        unit.signed_at = unit.state.signature->at;
        unit.beside = picked(unit.state, "plate.goes") == "beside";
        unit.before = record->structure.plate;
        if (auto plate = bundle::recorded_plate(unit.state, unit.before, unit.left_out)) {
            unit.after = std::move(*plate);
            out.push_back(std::move(unit));
        }
    }
    return out;
}

std::vector<Uptake> take_up(model::Register& reg, const std::vector<NewUnit>& units) {
    std::vector<Uptake> out;
    for (std::size_t i = 0; i < units.size(); ++i) {
        const bool history = !units[i].beside && is_history(reg, units, i);
        out.push_back({history ? Uptake::Kind::Known : taken_up(reg, units[i]), units[i]});
    }
    return out;
}

std::string uptake_text(const Uptake& uptake) {
    const NewUnit& unit = uptake.unit;
    const std::string name = model::number_for_people(unit.after.rating_kVA) + " kVA " +
                             bundle::printable(unit.after.make) + ", serial " +
                             bundle::printable(unit.after.serial);
    const std::string visit = " (visit of " + model::for_people(model::day_of(unit.signed_at)) + ")";
    std::string out = unit.structure + ": ";
    switch (uptake.kind) {
    case Uptake::Kind::Known:
        return "";
    case Uptake::Kind::TakenUp:
        out += name + " taken into the day pack" + visit + "; the verb register writes it into the register";
        break;
    case Uptake::Kind::Beside:
        out += name + " stands beside the first one" + visit + "; give it a row of its own in the register";
        break;
    case Uptake::Kind::Disputed:
        out +=
            name + " was put up" + visit +
            ", but the register has another unit that was not there before: not taken; correct the register";
        break;
    case Uptake::Kind::NoRow:
        out += name + " was put up" + visit + ", but the register has no such structure: not taken";
        break;
    }
    for (const std::string& fact : unit.left_out) {
        out += "\n  left out: " + bundle::printable(fact);
    }
    return out + "\n";
}

} // namespace crossarm::office
