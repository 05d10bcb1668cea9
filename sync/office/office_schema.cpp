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

} // namespace

const std::vector<store::Migration>& office_migrations() {
    static const std::vector<store::Migration> steps = {{1, kFirst}};
    return steps;
}

std::int64_t newest_office_schema() {
    return office_migrations().back().to;
}

} // namespace crossarm::office
