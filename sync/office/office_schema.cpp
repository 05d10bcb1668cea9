#include "sync/office/office_schema.hpp"

namespace crossarm::office {

namespace {

// Identity of a bundle is the digest of its body. (device, life, seq) is not unique: a tablet that was put
// back from a backup writes a second bundle under a number it has used, and both are kept. The same holds for
// the entries' (visit, device, seq).
constexpr const char* kFirst = R"(
CREATE TABLE bundle (
    digest       TEXT PRIMARY KEY NOT NULL CHECK (length(digest) = 64),
    device       TEXT NOT NULL CHECK (device <> ''),
    life         INTEGER NOT NULL CHECK (life >= 1),
    seq          INTEGER NOT NULL CHECK (seq >= 1),
    prev         TEXT NOT NULL CHECK (length(prev) IN (0, 64)),
    visit        BLOB NOT NULL CHECK (length(visit) = 16),
    raw          BLOB NOT NULL,
    taken_ms     INTEGER NOT NULL,
    taken_offset INTEGER NOT NULL CHECK (taken_offset BETWEEN -1439 AND 1439)
) STRICT;
CREATE INDEX bundle_visit ON bundle (visit);
CREATE INDEX bundle_number ON bundle (device, life, seq);
CREATE TABLE entry (
    id     BLOB PRIMARY KEY NOT NULL CHECK (length(id) = 16),
    visit  BLOB NOT NULL CHECK (length(visit) = 16),
    device TEXT NOT NULL CHECK (device <> ''),
    seq    INTEGER NOT NULL CHECK (seq >= 1),
    text   TEXT NOT NULL CHECK (text <> ''),
    hash   TEXT NOT NULL CHECK (length(hash) = 64)
) STRICT;
CREATE INDEX entry_visit ON entry (visit, device, seq);
)";

// `seed` makes the office's secret key. A tablet has one key for each of its lives.
constexpr const char* kKeys = R"(
CREATE TABLE office_key (
    number      INTEGER PRIMARY KEY AUTOINCREMENT,
    seed        BLOB NOT NULL CHECK (length(seed) = 32),
    made_ms     INTEGER NOT NULL,
    made_offset INTEGER NOT NULL CHECK (made_offset BETWEEN -1439 AND 1439)
) STRICT;
CREATE TABLE tablet_key (
    key            TEXT PRIMARY KEY NOT NULL CHECK (length(key) = 32),
    public         BLOB NOT NULL UNIQUE CHECK (length(public) = 32),
    device         TEXT NOT NULL CHECK (device <> ''),
    life           INTEGER NOT NULL CHECK (life >= 1),
    pinned_by      TEXT NOT NULL CHECK (pinned_by <> ''),
    pinned_ms      INTEGER NOT NULL,
    pinned_offset  INTEGER NOT NULL CHECK (pinned_offset BETWEEN -1439 AND 1439),
    revoked_ms     INTEGER,
    revoked_offset INTEGER CHECK (revoked_offset BETWEEN -1439 AND 1439),
    revoked_why    TEXT NOT NULL DEFAULT '',
    UNIQUE (device, life)
) STRICT;
CREATE TABLE receipts_made (
    one   INTEGER PRIMARY KEY CHECK (one = 1),
    epoch TEXT NOT NULL CHECK (length(epoch) = 32),
    count INTEGER NOT NULL CHECK (count >= 0)
) STRICT;
)";

// People whose names the office no longer gives out.
constexpr const char* kPeople = R"(
CREATE TABLE erased_person (
    person        TEXT PRIMARY KEY NOT NULL CHECK (person <> ''),
    erased_ms     INTEGER NOT NULL,
    erased_offset INTEGER NOT NULL CHECK (erased_offset BETWEEN -1439 AND 1439)
) STRICT;
)";

// Worked out from `bundle` (odd_bundles.hpp).
constexpr const char* kOdd = R"(
CREATE TABLE orphan (
    digest TEXT PRIMARY KEY NOT NULL REFERENCES bundle (digest),
    prev   TEXT NOT NULL CHECK (length(prev) = 64)
) STRICT;
CREATE INDEX orphan_prev ON orphan (prev);
CREATE TABLE forked (
    device TEXT NOT NULL,
    life   INTEGER NOT NULL,
    seq    INTEGER NOT NULL,
    PRIMARY KEY (device, life, seq)
) STRICT, WITHOUT ROWID;
INSERT INTO orphan (digest, prev) SELECT digest, prev FROM bundle AS b WHERE prev <> ''
    AND NOT EXISTS (SELECT 1 FROM bundle AS p WHERE p.digest = b.prev);
INSERT INTO forked (device, life, seq) SELECT device, life, seq FROM bundle GROUP BY device, life, seq
    HAVING count(*) > 1;
)";

} // namespace

const std::vector<store::Migration>& office_migrations() {
    static const std::vector<store::Migration> steps = {{1, kFirst}, {2, kKeys}, {3, kPeople}, {4, kOdd}};
    return steps;
}

std::int64_t newest_office_schema() {
    return office_migrations().back().to;
}

} // namespace crossarm::office
