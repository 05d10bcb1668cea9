// Keys at the office: its own, and those of the tablets that it knows.
//
// They stand in the office store, which nobody but its owner may read (file mode 0600). The office's secret
// key is not encrypted there: disk and machine have to be looked after as those of any office.
#pragma once

#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "sync/office/office_store.hpp"
#include "sync/seal/frame.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace crossarm::office {

/// The key that the office seals with, and the word of the key before it when there was one.
struct OfficeKey {
    seal::KeyPair pair;
    std::optional<seal::Vouch> vouch;
};
/// The newest key; made at first use.
[[nodiscard]] model::Result<OfficeKey> office_key(const OfficeStore& store, model::Timestamp now);
/// Makes another key, which the one before vouches for; from now on the office seals with it. Tablets that
/// have pinned the one before take it without a person; all others have to compare again.
[[nodiscard]] model::Result<OfficeKey> change_office_key(const OfficeStore& store, model::Timestamp now);

/// The public keys of all that it ever made, oldest first.
[[nodiscard]] model::Result<std::vector<seal::PublicKey>> office_keys_made(const OfficeStore& store);

/// One life of a tablet as the office knows it.
struct KnownTablet {
    std::string device;
    std::int64_t life = 1;
    seal::PublicKey key{};
    std::string pinned_by; ///< who compared the fingerprint
    model::Timestamp pinned_at;
    std::optional<model::Timestamp> revoked_from = std::nullopt;
    std::string revoked_why = {};
    bool operator==(const KnownTablet&) const = default;
};
/// All of them, by device and life, revoked ones too.
[[nodiscard]] model::Result<std::vector<KnownTablet>> tablets(const OfficeStore& store);
/// Pins a key whose fingerprint a person has compared. The same key again changes nothing. Problem when this
/// life of the tablet has another key, or the key belongs to another tablet or life.
[[nodiscard]] model::Done pin_tablet(const OfficeStore& store, const KnownTablet& tablet);
/// Revokes every life of the tablet that is not revoked yet. Problem when it is not known.
[[nodiscard]] model::Done revoke_tablet(const OfficeStore& store, const std::string& device,
                                        model::Timestamp from, const std::string& why);

/// Keys for what comes in: those revoked from a moment up to `now` are marked.
[[nodiscard]] model::Result<seal::KeyRing> keys_for_intake(const OfficeStore& store, model::Timestamp now);
/// Keys for what was taken already: it stays valid when its key is revoked later.
[[nodiscard]] model::Result<seal::KeyRing> keys_for_stored(const OfficeStore& store);

/// Names this office store, made at random at first use, and counts its receipts: a store put back from a
/// backup shows by a count that went back.
struct ReceiptNumber {
    std::string epoch;
    std::int64_t count = 0;
};
/// Allots the next one.
[[nodiscard]] model::Result<ReceiptNumber> next_receipt(const OfficeStore& store);

} // namespace crossarm::office
