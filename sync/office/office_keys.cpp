#include "sync/office/office_keys.hpp"

#include "checklist/store/database.hpp"
#include "checklist/store/store.hpp"
#include "sync/bundle/utf8.hpp"

#include <sodium.h>
#include <sqlite3.h>

#include <algorithm>
#include <utility>

namespace crossarm::office {

namespace {

using model::Done;
using model::Problem;
using model::Result;
using store::Database;
using store::Statement;
using store::Transaction;

template<typename Bytes>
std::string text_of(const Bytes& bytes) {
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

std::array<std::uint8_t, 32> key_of(const std::string& blob) {
    std::array<std::uint8_t, 32> key{};
    model::require(blob.size() == key.size(), "the table holds keys of 32 bytes");
    std::transform(blob.begin(), blob.end(), key.begin(),
                   [](char c) { return static_cast<std::uint8_t>(c); });
    return key;
}

seal::KeyPair pair_of(std::string blob) {
    seal::Seed seed = key_of(blob);
    seal::KeyPair pair = seal::KeyPair::from_seed(seed);
    sodium_memzero(seed.data(), seed.size());
    sodium_memzero(blob.data(), blob.size());
    return pair;
}

void add_office_key(Database& database, model::Timestamp now) {
    seal::Seed seed = seal::KeyPair::make().seed();
    Statement insert(database, "INSERT INTO office_key (seed, made_ms, made_offset) VALUES (?1, ?2, ?3)");
    insert.bind_blob(1, {reinterpret_cast<const char*>(seed.data()), seed.size()});
    insert.bind(2, now.utc_ms).bind(3, std::int64_t{now.offset_minutes}).finish();
    sodium_memzero(seed.data(), seed.size());
}

/// The newest key and its voucher; nothing when there is no key yet.
std::optional<OfficeKey> newest_key(Database& database) {
    Statement rows(database, "SELECT seed FROM office_key ORDER BY number DESC LIMIT 2");
    if (!rows.step()) {
        return std::nullopt;
    }
    OfficeKey newest{pair_of(rows.text(0)), std::nullopt};
    if (rows.step()) {
        newest.vouch = seal::vouch_for(newest.pair.public_key(), pair_of(rows.text(0)));
    }
    return newest;
}

Result<OfficeKey> key_after(const OfficeStore& store, model::Timestamp now, bool always_new) {
    std::optional<OfficeKey> key;
    const Done done = store.work([&](Database& database) -> Done {
        Transaction transaction(database);
        key = newest_key(database);
        if (key && !always_new) {
            return {};
        }
        add_office_key(database, now);
        key = newest_key(database);
        transaction.commit();
        return {};
    });
    if (!done) {
        return done.problem();
    }
    return *std::move(key);
}

std::vector<KnownTablet> read_tablets(Database& database) {
    Statement rows(database, "SELECT device, life, public, pinned_by, pinned_ms, pinned_offset, "
                             "coalesce(revoked_ms, -1), coalesce(revoked_offset, 0), revoked_why, "
                             "revoked_ms IS NOT NULL FROM tablet_key ORDER BY device, life");
    std::vector<KnownTablet> out;
    while (rows.step()) {
        KnownTablet tablet;
        tablet.device = rows.text(0);
        tablet.life = rows.number(1);
        tablet.key = key_of(rows.text(2));
        tablet.pinned_by = rows.text(3);
        tablet.pinned_at = {rows.number(4), static_cast<std::int16_t>(rows.number(5))};
        if (rows.number(9) != 0) {
            tablet.revoked_from = model::Timestamp{rows.number(6), static_cast<std::int16_t>(rows.number(7))};
        }
        tablet.revoked_why = rows.text(8);
        out.push_back(std::move(tablet));
    }
    return out;
}

Result<seal::KeyRing> ring_of(const OfficeStore& store, const std::optional<model::Timestamp>& now) {
    const auto known = tablets(store);
    if (!known) {
        return known.problem();
    }
    seal::KeyRing ring;
    for (const KnownTablet& tablet : *known) {
        const bool revoked = now && tablet.revoked_from && tablet.revoked_from->utc_ms <= now->utc_ms;
        ring.add({tablet.key,
                  {seal::Owner::Kind::Tablet, tablet.device, tablet.life},
                  revoked ? tablet.revoked_from : std::nullopt});
    }
    return ring;
}

} // namespace

Result<OfficeKey> office_key(const OfficeStore& store, model::Timestamp now) {
    return key_after(store, now, /*always_new=*/false);
}

Result<OfficeKey> change_office_key(const OfficeStore& store, model::Timestamp now) {
    return key_after(store, now, /*always_new=*/true);
}

Result<std::vector<seal::PublicKey>> office_keys_made(const OfficeStore& store) {
    std::vector<seal::PublicKey> out;
    const Done done = store.work([&](Database& database) -> Done {
        Statement rows(database, "SELECT seed FROM office_key ORDER BY number");
        while (rows.step()) {
            out.push_back(pair_of(rows.text(0)).public_key());
        }
        return {};
    });
    if (!done) {
        return done.problem();
    }
    return out;
}

Result<std::vector<KnownTablet>> tablets(const OfficeStore& store) {
    std::vector<KnownTablet> out;
    const Done done = store.work([&](Database& database) -> Done {
        out = read_tablets(database);
        return {};
    });
    if (!done) {
        return done.problem();
    }
    return out;
}

Done pin_tablet(const OfficeStore& store, const KnownTablet& tablet) {
    return store.work([&](Database& database) -> Done {
        Transaction transaction(database);
        for (const KnownTablet& known : read_tablets(database)) {
            const bool same_life = known.device == tablet.device && known.life == tablet.life;
            if (known.key == tablet.key && same_life) {
                return {};
            }
            if (known.key == tablet.key || same_life) {
                return Problem{"tablet " + tablet.device + ", life " + std::to_string(tablet.life),
                               same_life ? "another key is enrolled for this life of the tablet already"
                                         : "its key is enrolled already for life " +
                                               std::to_string(known.life) + " of tablet " + known.device,
                               "let the tablet begin a new life (crossarm --new-life) and enrol that"};
            }
        }
        Statement insert(database, "INSERT INTO tablet_key (key, public, device, life, pinned_by, pinned_ms, "
                                   "pinned_offset) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)");
        insert.bind(1, seal::key_id(tablet.key)).bind_blob(2, text_of(tablet.key)).bind(3, tablet.device);
        insert.bind(4, tablet.life).bind(5, tablet.pinned_by).bind(6, tablet.pinned_at.utc_ms);
        insert.bind(7, std::int64_t{tablet.pinned_at.offset_minutes}).finish();
        transaction.commit();
        return {};
    });
}

Done revoke_tablet(const OfficeStore& store, const std::string& device, model::Timestamp from,
                   const std::string& why) {
    return store.work([&](Database& database) -> Done {
        Transaction transaction(database);
        Statement update(database, "UPDATE tablet_key SET revoked_ms = ?2, revoked_offset = ?3, "
                                   "revoked_why = ?4 WHERE device = ?1 AND revoked_ms IS NULL");
        update.bind(1, device).bind(2, from.utc_ms).bind(3, std::int64_t{from.offset_minutes}).bind(4, why);
        update.finish();
        if (sqlite3_changes64(database.handle()) == 0) {
            return Problem{"tablet " + bundle::printable(device),
                           "no tablet of this name is enrolled, or it is revoked already",
                           "see crossarm-office tablets"};
        }
        transaction.commit();
        return {};
    });
}

Result<seal::KeyRing> keys_for_intake(const OfficeStore& store, model::Timestamp now) {
    return ring_of(store, now);
}

Result<seal::KeyRing> keys_for_stored(const OfficeStore& store) {
    return ring_of(store, std::nullopt);
}

Result<ReceiptNumber> next_receipt(const OfficeStore& store) {
    ReceiptNumber number;
    const Done done = store.work([&](Database& database) -> Done {
        Transaction transaction(database);
        std::array<unsigned char, 16> epoch{};
        store::system_random()(epoch.data(), epoch.size());
        std::string digits(2 * epoch.size() + 1, '\0');
        sodium_bin2hex(digits.data(), digits.size(), epoch.data(), epoch.size());
        digits.pop_back();
        Statement first(database, "INSERT INTO receipts_made (one, epoch, count) VALUES (1, ?1, 0) "
                                  "ON CONFLICT (one) DO NOTHING");
        first.bind(1, digits).finish();
        database.run("UPDATE receipts_made SET count = count + 1");
        number = {database.text("SELECT epoch FROM receipts_made"),
                  database.number("SELECT count FROM receipts_made")};
        transaction.commit();
        return {};
    });
    if (!done) {
        return done.problem();
    }
    return number;
}

} // namespace crossarm::office
