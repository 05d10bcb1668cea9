#include "checklist/store/outbox.hpp"

#include "checklist/store/blobs.hpp"
#include "checklist/store/journal.hpp"

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

constexpr const char* kColumns = "SELECT digest, visit, seq, state, file, bytes FROM outbox ";
constexpr const char* kWithoutBytes = "SELECT digest, visit, seq, state, file, x'' FROM outbox ";

OutboxRow row_of(const Statement& statement) {
    OutboxRow row;
    row.digest = statement.text(0);
    row.visit = id_of(statement.text(1));
    row.seq = statement.number(2);
    row.state = state_of(statement.text(3));
    row.file = statement.text(4);
    row.bytes = statement.text(5);
    return row;
}

} // namespace

std::optional<OutboxRow> newest_bundle_of(Database& database, const model::Id& visit) {
    Statement statement(database, std::string(kColumns) + "WHERE visit = ?1 ORDER BY seq DESC LIMIT 1");
    statement.bind_blob(1, bytes_of(visit));
    return statement.step() ? std::optional(row_of(statement)) : std::nullopt;
}

std::optional<OutboxRow> last_bundle(Database& database) {
    Statement statement(database, std::string(kWithoutBytes) + "ORDER BY seq DESC LIMIT 1");
    return statement.step() ? std::optional(row_of(statement)) : std::nullopt;
}

std::vector<OutboxRow> read_outbox(Database& database) {
    std::vector<OutboxRow> rows;
    Statement statement(database, std::string(kWithoutBytes) + "ORDER BY seq");
    while (statement.step()) {
        rows.push_back(row_of(statement));
    }
    return rows;
}

std::optional<std::string> digest_at(Database& database, std::int64_t seq) {
    Statement statement(database, "SELECT digest FROM outbox WHERE seq = ?1");
    statement.bind(1, seq);
    return statement.step() ? std::optional(statement.text(0)) : std::nullopt;
}

model::Result<OutboxRow> keep_made_bundle(Database& database, const model::Id& visit, model::Timestamp at,
                                          const MakeBundle& make) {
    if (!is_usable(at)) {
        return model::Problem{"the tablet's clock", "it does not show a date between 1970 and 9999",
                              "set date and time of the tablet"};
    }
    Transaction transaction(database);
    if (auto here = newest_bundle_of(database, visit)) {
        return *std::move(here);
    }
    const auto last = last_bundle(database);
    OutboxRow row;
    row.visit = visit;
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
                            "file) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, '')");
        statement.bind(1, row.seq).bind(2, row.digest).bind_blob(3, bytes_of(visit));
        statement.bind_blob(4, row.bytes).bind(5, at.utc_ms).bind(6, std::int64_t{at.offset_minutes});
        statement.bind(7, name_of(row.state));
        statement.finish();
    }
    const auto found = newest_bundle_of(database, visit);
    if (!found || found->bytes != row.bytes || found->digest != row.digest) {
        throw DiskFault(SQLITE_CORRUPT, "a bundle just written reads differently");
    }
    transaction.commit();
    return row;
}

model::Done mark(Database& database, const std::string& digest, HandOver state, const std::string& file) {
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
