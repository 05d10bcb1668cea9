#include "checklist/store/journal.hpp"

#include "checklist/store/blobs.hpp"
#include "checklist/store/visit_index.hpp"

#include <sqlite3.h>

#include <array>

namespace crossarm::store {

namespace {

constexpr const char* kColumns = "SELECT id, visit, device, seq, text, hash FROM entry ";

Row row_of(const Statement& statement) {
    return Row{id_of(statement.text(0)), id_of(statement.text(1)), statement.text(2),
               statement.number(3),      statement.text(4),        statement.text(5)};
}

void insert(Database& database, const Row& row) {
    Statement statement(database, "INSERT INTO entry (id, visit, device, seq, text, hash) "
                                  "VALUES (?1, ?2, ?3, ?4, ?5, ?6)");
    statement.bind_blob(1, bytes_of(row.id)).bind_blob(2, bytes_of(row.visit)).bind(3, row.device);
    statement.bind(4, row.seq).bind(5, row.text).bind(6, row.hash);
    statement.finish();
}

/// What is in the table must be what was meant before anybody is told so.
void check_written(Database& database, std::int64_t place, const Row& meant) {
    Statement statement(database, std::string(kColumns) + "WHERE place = ?1");
    statement.bind(1, place);
    if (!statement.step()) {
        throw DiskFault(SQLITE_CORRUPT, "an entry just written is not there");
    }
    const Row found = row_of(statement);
    if (found.text != meant.text || found.hash != meant.hash || model::hash_of(found.text) != meant.hash) {
        throw DiskFault(SQLITE_CORRUPT, "an entry just written reads differently");
    }
}

} // namespace

model::Id make_id(model::IdMaker& ids, const RandomBytes& random, model::Timestamp now) {
    std::array<std::uint8_t, 10> bytes{};
    random(bytes.data(), bytes.size());
    return ids.make(is_usable(now) ? static_cast<std::uint64_t>(now.utc_ms) : 0U, bytes);
}

bool is_usable(model::Timestamp at) {
    constexpr std::int64_t kYear10000_ms = 253'402'300'800'000;
    return at.utc_ms >= 0 && at.utc_ms < kYear10000_ms && at.offset_minutes > -24 * 60 &&
           at.offset_minutes < 24 * 60;
}

model::Problem bad_clock() {
    return {"the tablet's clock", "it does not show a date between 1970 and 9999",
            "set date and time of the tablet"};
}

model::Result<std::vector<Kept>> append_entries(Database& database, Pen& pen, const model::Id& visit,
                                                const std::vector<model::Body>& bodies, model::Timestamp at,
                                                const std::string& by) {
    if (!is_usable(at)) {
        return bad_clock();
    }
    std::vector<Kept> kept;
    Transaction transaction(database);
    const auto last = last_of(database, visit, pen.device);
    std::int64_t seq = last ? last->seq : 0;
    std::string prev = last ? last->hash : "";
    for (const model::Body& body : bodies) {
        model::Entry entry{make_id(pen.ids, pen.random, at), visit, pen.device, ++seq, at, by, body, prev};
        Row row{entry.id, visit, pen.device, seq, model::to_canonical(entry), ""};
        row.hash = model::hash_of(row.text);
        insert(database, row);
        const std::int64_t place = sqlite3_last_insert_rowid(database.handle());
        check_written(database, place, row);
        note_in_index(database, entry, place);
        prev = row.hash;
        kept.push_back(Kept{std::move(entry), std::move(row.hash)});
    }
    transaction.commit();
    return kept;
}

model::Result<ReadVisit> read_visit(Database& database, const model::Id& visit, const std::string& store) {
    ReadVisit read;
    Chain chain(store);
    Statement statement(database, std::string(kColumns) + "WHERE visit = ?1 ORDER BY device, seq");
    statement.bind_blob(1, bytes_of(visit));
    while (statement.step()) {
        Row row = row_of(statement);
        auto entry = chain.follow(row);
        if (!entry) {
            return entry.problem();
        }
        read.entries.push_back(std::move(entry).value());
        read.texts.push_back(std::move(row.text));
    }
    return read;
}

model::Done verify_journal(Database& database, const std::string& store) {
    Chain chain(store);
    Statement statement(database, std::string(kColumns) + "ORDER BY visit, device, seq");
    while (statement.step()) {
        const auto entry = chain.follow(row_of(statement));
        if (!entry) {
            return entry.problem();
        }
    }
    return {};
}

std::optional<Row> last_of(Database& database, const model::Id& visit, const std::string& device) {
    Statement statement(database,
                        std::string(kColumns) + "WHERE visit = ?1 AND device = ?2 ORDER BY seq DESC LIMIT 1");
    statement.bind_blob(1, bytes_of(visit)).bind(2, device);
    return statement.step() ? std::optional(row_of(statement)) : std::nullopt;
}

std::optional<Row> last_appended(Database& database, const std::string& device) {
    Statement statement(database, std::string(kColumns) + "WHERE device = ?1 ORDER BY place DESC LIMIT 1");
    statement.bind(1, device);
    return statement.step() ? std::optional(row_of(statement)) : std::nullopt;
}

std::optional<std::string> hash_at(Database& database, const model::Id& visit, const std::string& device,
                                   std::int64_t seq) {
    Statement statement(database, "SELECT hash FROM entry WHERE visit = ?1 AND device = ?2 AND seq = ?3");
    statement.bind_blob(1, bytes_of(visit)).bind(2, device).bind(3, seq);
    return statement.step() ? std::optional(statement.text(0)) : std::nullopt;
}

} // namespace crossarm::store
