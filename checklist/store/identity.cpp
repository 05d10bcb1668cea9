#include "checklist/store/identity.hpp"

#include "checklist/store/journal.hpp"

#include <sodium.h>
#include <sqlite3.h>

#include <algorithm>
#include <string>

namespace crossarm::store {

namespace {

std::string_view view_of(const std::array<std::uint8_t, 32>& bytes) {
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

std::array<std::uint8_t, 32> bytes_of(const std::string& blob) {
    std::array<std::uint8_t, 32> bytes{};
    if (blob.size() != bytes.size()) {
        throw DiskFault(SQLITE_CORRUPT, "a key does not have 32 bytes");
    }
    std::transform(blob.begin(), blob.end(), bytes.begin(),
                   [](char c) { return static_cast<std::uint8_t>(c); });
    return bytes;
}

Identity add_life(Database& database, std::int64_t life, const RandomBytes& random, model::Timestamp at) {
    Identity identity;
    identity.life = life;
    random(identity.seed.data(), identity.seed.size());
    Statement insert(database,
                     "INSERT INTO identity (life, seed, made_ms, made_offset) VALUES (?1, ?2, ?3, ?4)");
    insert.bind(1, life).bind_blob(2, view_of(identity.seed));
    insert.bind(3, at.utc_ms).bind(4, std::int64_t{at.offset_minutes}).finish();
    return identity;
}

} // namespace

Identity::~Identity() {
    sodium_memzero(seed.data(), seed.size());
}

void make_first_identity(Database& database, const RandomBytes& random, model::Timestamp at) {
    if (database.number("SELECT count(*) FROM identity") == 0) {
        add_life(database, 1, random, at);
    }
}

Identity read_identity(Database& database) {
    Statement newest(database, "SELECT life, seed FROM identity ORDER BY life DESC LIMIT 1");
    if (!newest.step()) {
        throw DiskFault(SQLITE_CORRUPT, "the tablet has no key");
    }
    Identity identity;
    identity.life = newest.number(0);
    std::string blob = newest.text(1);
    identity.seed = bytes_of(blob);
    sodium_memzero(blob.data(), blob.size());
    return identity;
}

model::Result<Identity> next_identity(Database& database, const RandomBytes& random, model::Timestamp at) {
    if (!is_usable(at)) {
        return model::Problem{"the tablet's clock", "it does not show a date between 1970 and 9999",
                              "set date and time of the tablet"};
    }
    Transaction transaction(database);
    const std::int64_t life = database.number("SELECT max(life) FROM identity") + 1;
    const Identity identity = add_life(database, life, random, at);
    transaction.commit();
    return identity;
}

model::Done keep_pin(Database& database, const PinnedKey& key) {
    if (!is_usable(key.at)) {
        return model::Problem{"the tablet's clock", "it does not show a date between 1970 and 9999",
                              "set date and time of the tablet"};
    }
    Transaction transaction(database);
    Statement insert(database, "INSERT INTO pinned (public, office, pinned_by, pinned_ms, pinned_offset) "
                               "VALUES (?1, ?2, ?3, ?4, ?5) ON CONFLICT (public) DO NOTHING");
    insert.bind_blob(1, view_of(key.key)).bind(2, key.office).bind(3, key.by);
    insert.bind(4, key.at.utc_ms).bind(5, std::int64_t{key.at.offset_minutes}).finish();
    transaction.commit();
    return {};
}

std::vector<PinnedKey> read_pins(Database& database) {
    Statement rows(database,
                   "SELECT public, office, pinned_by, pinned_ms, pinned_offset FROM pinned ORDER BY number");
    std::vector<PinnedKey> out;
    while (rows.step()) {
        out.push_back({bytes_of(rows.text(0)),
                       rows.text(1),
                       rows.text(2),
                       {rows.number(3), static_cast<std::int16_t>(rows.number(4))}});
    }
    return out;
}

} // namespace crossarm::store
