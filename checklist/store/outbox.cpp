#include "checklist/store/outbox.hpp"

#include "checklist/store/blobs.hpp"
#include "checklist/store/journal.hpp"
#include "checklist/store/receipts.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <array>

namespace crossarm::store {

namespace {

constexpr std::array<std::string_view, 3> kStates = {"written", "handed_over", "received"};

std::string_view name_of(HandOver state) {
    return kStates.at(static_cast<std::size_t>(state));
}

HandOver state_of(std::string_view name) {
    const auto* found = std::find(kStates.begin(), kStates.end(), name);
    if (found == kStates.end()) {
        throw DiskFault(SQLITE_CORRUPT, "a bundle has an unknown state");
    }
    return static_cast<HandOver>(found - kStates.begin());
}

/// The columns of a row, with its bytes or without.
std::string columns(const char* bytes) {
    return "SELECT o.digest, visit, o.seq, state, file, " + std::string(bytes) +
           ", o.life, revision, is_open, coalesce(b.reason, ''), h.since_ms IS NOT NULL, "
           "coalesce(h.since_ms, 0), coalesce(h.since_offset, 0) FROM outbox AS o "
           "LEFT JOIN office_holds AS h ON h.digest = o.digest "
           "LEFT JOIN office_holds_back AS b ON b.digest = o.digest ";
}

OutboxRow row_of(const Statement& statement) {
    OutboxRow row;
    row.digest = statement.text(0);
    row.visit = id_of(statement.text(1));
    row.seq = statement.number(2);
    row.state = state_of(statement.text(3));
    row.file = statement.text(4);
    row.bytes = statement.text(5);
    row.life = statement.number(6);
    row.revision = statement.number(7);
    row.is_open = statement.number(8) != 0;
    if (statement.number(10) != 0) {
        row.confirmed_at =
            model::Timestamp{statement.number(11), static_cast<std::int16_t>(statement.number(12))};
    } else {
        row.held_back = statement.text(9); // what was received is not held back any more
    }
    return row;
}

} // namespace

std::optional<OutboxRow> newest_bundle_of(Database& database, const model::Id& visit) {
    Statement statement(database,
                        columns("bytes") + "WHERE visit = ?1 AND is_open = 0 ORDER BY o.seq DESC LIMIT 1");
    statement.bind_blob(1, bytes_of(visit));
    return statement.step() ? std::optional(row_of(statement)) : std::nullopt;
}

std::optional<OutboxRow> last_bundle(Database& database) {
    Statement statement(database, columns("x''") + "ORDER BY o.seq DESC LIMIT 1");
    return statement.step() ? std::optional(row_of(statement)) : std::nullopt;
}

std::vector<OutboxRow> read_outbox(Database& database) {
    std::vector<OutboxRow> rows;
    Statement statement(database, columns("x''") + "ORDER BY o.seq");
    while (statement.step()) {
        rows.push_back(row_of(statement));
    }
    return rows;
}

std::optional<std::string> bytes_of_bundle(Database& database, const std::string& digest) {
    Statement statement(database, "SELECT bytes FROM outbox WHERE digest = ?1");
    statement.bind(1, digest);
    return statement.step() ? std::optional(statement.text(0)) : std::nullopt;
}

std::optional<std::string> digest_at(Database& database, std::int64_t seq) {
    Statement statement(database, "SELECT digest FROM outbox WHERE seq = ?1");
    statement.bind(1, seq);
    return statement.step() ? std::optional(statement.text(0)) : std::nullopt;
}

model::Result<OutboxRow> keep_made_bundle(Database& database, const model::Id& visit, model::Timestamp at,
                                          std::int64_t life, const Store::Wanted& wanted,
                                          const MakeBundle& make) {
    if (!is_usable(at)) {
        return model::Problem{"the tablet's clock", "it does not show a date between 1970 and 9999",
                              "set date and time of the tablet"};
    }
    Transaction transaction(database);
    if (auto here = newest_bundle_of(database, visit);
        here && !wanted.is_open && here->revision >= wanted.revision) {
        return *std::move(here);
    }
    if (const auto elsewhere = read_written_elsewhere(database); !elsewhere.empty()) {
        return model::Problem{
            "bundle " + std::to_string(elsewhere.front().seq),
            "the office holds a bundle " + elsewhere.front().digest.substr(0, 8) +
                " in this tablet's name that it never wrote: the tablet was put back from a "
                "backup, or copied",
            "begin a new life (crossarm --new-life) and enrol the tablet again"};
    }
    const auto last = last_bundle(database);
    OutboxRow row;
    row.visit = visit;
    row.life = life;
    row.revision = wanted.revision;
    row.is_open = wanted.is_open;
    row.seq = last ? last->seq + 1 : 1;
    auto made = make(row.seq, last ? last->digest : "");
    if (!made) {
        return made.problem();
    }
    row.digest = std::move(made->digest);
    row.bytes = std::move(made->bytes);
    model::require(row.digest.size() == 64, "a bundle's digest is 64 hexadecimal digits");
    {
        Statement statement(database,
                            "INSERT INTO outbox (seq, digest, visit, bytes, made_ms, made_offset, state, "
                            "file, life, revision, is_open) "
                            "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, '', ?8, ?9, ?10)");
        statement.bind(1, row.seq).bind(2, row.digest).bind_blob(3, bytes_of(visit));
        statement.bind_blob(4, row.bytes).bind(5, at.utc_ms).bind(6, std::int64_t{at.offset_minutes});
        statement.bind(7, name_of(row.state)).bind(8, row.life).bind(9, row.revision);
        statement.bind(10, std::int64_t{row.is_open ? 1 : 0});
        statement.finish();
    }
    {
        Statement back(database, "SELECT digest, bytes FROM outbox WHERE seq = ?1");
        back.bind(1, row.seq);
        if (!back.step() || back.text(0) != row.digest || back.text(1) != row.bytes) {
            throw DiskFault(SQLITE_CORRUPT, "a bundle just written reads differently");
        }
    }
    transaction.commit();
    return row;
}

model::Done mark(Database& database, const std::string& digest, HandOver state, const std::string& file) {
    if (state == HandOver::Received) {
        return model::Problem{"bundle " + digest, "only a receipt of the office says that it was received",
                              "load the office's receipt or its next day pack"};
    }
    Transaction transaction(database);
    HandOver now = HandOver::Written;
    {
        Statement statement(database, "SELECT state FROM outbox WHERE digest = ?1");
        statement.bind(1, digest);
        if (!statement.step()) {
            return model::Problem{"bundle " + digest, "this tablet has no such bundle",
                                  "look in the list of bundles for the right one"};
        }
        now = state_of(statement.text(0));
    }
    {
        Statement statement(database, "UPDATE outbox SET state = ?2, "
                                      "file = CASE WHEN ?3 = '' THEN file ELSE ?3 END WHERE digest = ?1");
        statement.bind(1, digest).bind(2, name_of(std::max(now, state))).bind(3, file);
        statement.finish();
    }
    transaction.commit();
    return {};
}

} // namespace crossarm::store
