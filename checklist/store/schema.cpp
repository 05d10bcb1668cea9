#include "checklist/store/schema.hpp"

#include <string>

namespace crossarm::store {

namespace {

// `place` is the order of arrival on this tablet. `text` is the entry's canonical text, byte for byte; the
// other columns repeat what it says, so that it can be found.
constexpr const char* kFirst = R"(
CREATE TABLE tablet (
    one    INTEGER PRIMARY KEY CHECK (one = 1),
    device TEXT NOT NULL CHECK (length(device) = 36)
) STRICT;
CREATE TABLE entry (
    place  INTEGER PRIMARY KEY,
    id     BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    visit  BLOB NOT NULL CHECK (length(visit) = 16),
    device TEXT NOT NULL CHECK (device <> ''),
    seq    INTEGER NOT NULL CHECK (seq >= 1),
    text   TEXT NOT NULL CHECK (text <> ''),
    hash   TEXT NOT NULL CHECK (length(hash) = 64),
    UNIQUE (visit, device, seq)
) STRICT;
CREATE TABLE day_pack (
    number        INTEGER PRIMARY KEY CHECK (number >= 1),
    digest        TEXT NOT NULL CHECK (length(digest) = 64),
    bytes         BLOB NOT NULL,
    loaded_ms     INTEGER NOT NULL,
    loaded_offset INTEGER NOT NULL CHECK (loaded_offset BETWEEN -1439 AND 1439)
) STRICT;
CREATE TABLE outbox (
    seq         INTEGER PRIMARY KEY CHECK (seq >= 1),
    digest      TEXT NOT NULL UNIQUE CHECK (length(digest) = 64),
    visit       BLOB NOT NULL CHECK (length(visit) = 16),
    bytes       BLOB NOT NULL,
    made_ms     INTEGER NOT NULL,
    made_offset INTEGER NOT NULL CHECK (made_offset BETWEEN -1439 AND 1439),
    state       TEXT NOT NULL CHECK (state IN ('written', 'handed_over', 'received')),
    file        TEXT NOT NULL
) STRICT;
CREATE INDEX outbox_visit ON outbox (visit);
)";

// `hash` is a PHC string. `wrong` counts in a row; `tried_boot_ms` is how long the tablet had been
// running at the last wrong try. `witness` is empty for the first PIN on the tablet.
constexpr const char* kPins = R"(
CREATE TABLE pin (
    person        TEXT PRIMARY KEY NOT NULL CHECK (person <> ''),
    hash          TEXT NOT NULL CHECK (hash LIKE '$argon2id$%'),
    wrong         INTEGER NOT NULL CHECK (wrong >= 0),
    tried_boot_ms INTEGER NOT NULL CHECK (tried_boot_ms >= 0),
    set_ms        INTEGER NOT NULL,
    set_offset    INTEGER NOT NULL CHECK (set_offset BETWEEN -1439 AND 1439),
    witness       TEXT NOT NULL
) STRICT;
)";

// `seed` makes the secret key of one life. What a receipt says is kept beside its bytes: what the office
// holds for ever, what it holds back as of the newest receipt. `pinned_by` is empty for a key that a pinned
// key vouched for.
constexpr const char* kKeysAndReceipts = R"(
CREATE TABLE identity (
    life        INTEGER PRIMARY KEY CHECK (life >= 1),
    seed        BLOB NOT NULL CHECK (length(seed) = 32),
    made_ms     INTEGER NOT NULL,
    made_offset INTEGER NOT NULL CHECK (made_offset BETWEEN -1439 AND 1439)
) STRICT;
CREATE TABLE pinned (
    number        INTEGER PRIMARY KEY,
    public        BLOB NOT NULL UNIQUE CHECK (length(public) = 32),
    office        TEXT NOT NULL,
    pinned_by     TEXT NOT NULL,
    pinned_ms     INTEGER NOT NULL,
    pinned_offset INTEGER NOT NULL CHECK (pinned_offset BETWEEN -1439 AND 1439)
) STRICT;
CREATE TABLE receipt (
    digest       TEXT PRIMARY KEY NOT NULL CHECK (length(digest) = 64),
    epoch        TEXT NOT NULL CHECK (length(epoch) = 32),
    count        INTEGER NOT NULL CHECK (count >= 1),
    said_ms      INTEGER NOT NULL,
    bytes        BLOB NOT NULL,
    taken_ms     INTEGER NOT NULL,
    taken_offset INTEGER NOT NULL CHECK (taken_offset BETWEEN -1439 AND 1439)
) STRICT;
CREATE TABLE office_holds (
    digest       TEXT PRIMARY KEY NOT NULL CHECK (length(digest) = 64),
    seq          INTEGER NOT NULL CHECK (seq >= 1),
    life         INTEGER NOT NULL CHECK (life >= 1),
    receipt      TEXT NOT NULL REFERENCES receipt (digest),
    since_ms     INTEGER NOT NULL,
    since_offset INTEGER NOT NULL CHECK (since_offset BETWEEN -1439 AND 1439)
) STRICT;
CREATE TABLE office_holds_back (
    digest TEXT PRIMARY KEY NOT NULL CHECK (length(digest) = 64),
    reason TEXT NOT NULL
) STRICT;
ALTER TABLE outbox ADD COLUMN life INTEGER NOT NULL DEFAULT 1 CHECK (life >= 1);
ALTER TABLE outbox ADD COLUMN revision INTEGER NOT NULL DEFAULT 1 CHECK (revision >= 1);
ALTER TABLE outbox ADD COLUMN is_open INTEGER NOT NULL DEFAULT 0 CHECK (is_open IN (0, 1));
)";

constexpr const char* kRebuilt = R"(
CREATE TABLE visit_index (
    visit         BLOB PRIMARY KEY NOT NULL CHECK (length(visit) = 16),
    first         INTEGER NOT NULL REFERENCES entry (place),
    last          INTEGER NOT NULL REFERENCES entry (place),
    structure     TEXT NOT NULL,
    opened_ms     INTEGER NOT NULL,
    opened_offset INTEGER NOT NULL,
    last_ms       INTEGER NOT NULL,
    last_offset   INTEGER NOT NULL,
    entries       INTEGER NOT NULL CHECK (entries >= 1),
    is_signed     INTEGER NOT NULL CHECK (is_signed IN (0, 1))
) STRICT;
)";

} // namespace

const std::vector<Migration>& migrations() {
    static const std::vector<Migration> steps = {{1, kFirst}, {2, kPins}, {3, kKeysAndReceipts}};
    return steps;
}

std::int64_t newest_schema() {
    return migrations().back().to;
}

bool migrate(Database& database, const std::vector<Migration>& steps) {
    bool any = false;
    for (const Migration& step : steps) {
        if (step.to <= database.number("PRAGMA user_version")) {
            continue;
        }
        Transaction transaction(database);
        database.run(step.sql);
        database.run("PRAGMA user_version=" + std::to_string(step.to));
        transaction.commit();
        any = true;
    }
    return any;
}

void drop_rebuilt_tables(Database& database) {
    database.run("DROP TABLE IF EXISTS visit_index");
}

void make_rebuilt_tables(Database& database) {
    database.run(kRebuilt);
}

} // namespace crossarm::store
