#include "checklist/store/visit_index.hpp"

#include "checklist/store/blobs.hpp"
#include "checklist/store/schema.hpp"

#include <variant>

namespace crossarm::store {

void note_in_index(Database& database, const model::Entry& entry, std::int64_t place) {
    Statement statement(database,
                        "INSERT INTO visit_index (visit, first, last, structure, opened_ms, opened_offset, "
                        "last_ms, last_offset, entries, is_signed) "
                        "VALUES (?1, ?2, ?2, '', ?3, ?4, ?3, ?4, 1, ?5) "
                        "ON CONFLICT (visit) DO UPDATE SET last = ?2, last_ms = ?3, last_offset = ?4, "
                        "entries = entries + 1, is_signed = max(is_signed, ?5)");
    statement.bind_blob(1, bytes_of(entry.visit)).bind(2, place);
    statement.bind(3, entry.at.utc_ms).bind(4, std::int64_t{entry.at.offset_minutes});
    statement.bind(5, std::int64_t{std::holds_alternative<model::Signed>(entry.body) ? 1 : 0});
    statement.finish();

    const auto* opened = std::get_if<model::Opened>(&entry.body);
    if (opened != nullptr) {
        Statement naming(database, "UPDATE visit_index SET structure = ?2, opened_ms = ?3, "
                                   "opened_offset = ?4 WHERE visit = ?1 AND structure = ''");
        naming.bind_blob(1, bytes_of(entry.visit)).bind(2, opened->structure);
        naming.bind(3, entry.at.utc_ms).bind(4, std::int64_t{entry.at.offset_minutes});
        naming.finish();
    }
}

model::Done rebuild_index(Database& database, const std::string& store) {
    Transaction transaction(database);
    drop_rebuilt_tables(database);
    make_rebuilt_tables(database);
    {
        Statement statement(database, "SELECT place, text FROM entry ORDER BY place");
        while (statement.step()) {
            const std::int64_t place = statement.number(0);
            const auto entry =
                model::read_entry(statement.text(1), store + ": entry at place " + std::to_string(place));
            if (!entry) {
                return entry.problem();
            }
            note_in_index(database, *entry, place);
        }
    }
    transaction.commit();
    return {};
}

std::vector<VisitRow> read_index(Database& database) {
    std::vector<VisitRow> rows;
    Statement statement(database, "SELECT visit, structure, opened_ms, opened_offset, last_ms, last_offset, "
                                  "entries, is_signed FROM visit_index ORDER BY first");
    while (statement.step()) {
        rows.push_back(VisitRow{
            id_of(statement.text(0)),
            statement.text(1),
            {statement.number(2), static_cast<std::int16_t>(statement.number(3))},
            {statement.number(4), static_cast<std::int16_t>(statement.number(5))},
            statement.number(6),
            statement.number(7) != 0,
        });
    }
    return rows;
}

} // namespace crossarm::store
