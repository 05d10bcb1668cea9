// The tablet's store: one SQLite file, one connection, everything that happened in it.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/receipt.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "checklist/store/pin_hash.hpp"
#include "checklist/store/pin_try.hpp"

#include <array>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::store {

/// An entry that is on the disk, with the hash of its canonical text.
struct Kept {
    model::Entry entry;
    std::string hash;
};

/// One visit as the index has it. Rebuilt from the journal, never written by hand.
struct VisitRow {
    model::Id visit;
    std::string structure;
    model::Timestamp opened_at;
    model::Timestamp last_at;
    std::int64_t entries = 0;
    bool is_signed = false;
};

/// A day pack as it was loaded.
struct PackRow {
    std::int64_t number = 0;
    std::string digest;
    std::string bytes; ///< the whole file
    model::Timestamp loaded_at;
};

/// How far a closed visit has come on its way to the office.
enum class HandOver { Written, HandedOver, Received };

/// A finished bundle: the bytes never change once they are here.
struct OutboxRow {
    std::string digest; ///< of the body
    model::Id visit;
    std::int64_t seq = 0; ///< number of the bundle on this device, from 1
    std::string bytes;
    HandOver state = HandOver::Written;
    std::string file;          ///< where it was written last; may be empty
    std::int64_t life = 1;     ///< the tablet's life that wrote it
    std::int64_t revision = 1; ///< from 2 on an amendment
    bool is_open = false;      ///< a copy of an unfinished visit
    std::string held_back;     ///< why the office holds it back, in its words; empty when it does not
    std::optional<model::Timestamp> confirmed_at; ///< when a receipt for it was taken
};

/// How long the bytes of a confirmed bundle stay on the tablet, in milliseconds: an office that is put back
/// from a backup can ask for them again.
constexpr std::int64_t kKeepConfirmedMs = std::int64_t{90} * 24 * 3600 * 1000;
/// Whether the bytes of a bundle may be dropped to make room: only what a receipt confirmed at least 90 days
/// ago. A person is asked before anything goes.
[[nodiscard]] bool may_drop(const OutboxRow& row, model::Timestamp now);

/// Who the tablet is. The seed makes its Ed25519 key pair. It lies in the store, readable for the user under
/// whom the program runs (file mode 0600) and not encrypted by us: whoever can read the tablet's disk can
/// seal in its name. Disk encryption is the operating system's; a lost tablet is revoked at the office.
struct Identity {
    /// Counts the beginnings: 1 for a new store. A store that was moved to another tablet or put back from a
    /// backup begins another, with another key.
    std::int64_t life = 1;
    std::array<std::uint8_t, 32> seed{};
    Identity() = default;
    Identity(const Identity&) = default;
    Identity& operator=(const Identity&) = default;
    ~Identity(); ///< wipes the seed
};

/// An office's public key that this tablet trusts. Keys are never unpinned: packs and receipts from before a
/// change of key are still read.
struct PinnedKey {
    std::array<std::uint8_t, 32> key{};
    std::string office;
    std::string by; ///< who compared the fingerprint; empty when a pinned key vouched for it
    model::Timestamp at;
};

/// A receipt as it was taken, its seal checked by the caller.
struct ReceiptRow {
    std::string digest;
    model::Receipt receipt;
    std::string bytes; ///< the whole file
    model::Timestamp taken_at;
};
struct ReceiptNews {
    bool is_new = false; ///< false: it was taken before, nothing changed
    std::int64_t newly_received = 0;
    /// The office counts fewer receipts than it did at an earlier date: it was put back from a backup and may
    /// have lost bundles. All of them should be handed over again.
    bool office_went_back = false;
};

/// Where random bytes and ids come from; a test gives its own.
using RandomBytes = std::function<void(std::uint8_t* out, std::size_t size)>;
[[nodiscard]] RandomBytes system_random();

class Store {
public:
    /// Opens the store at `path`, making it when there is no file. Problem, and the file is left untouched,
    /// when: it is no store of ours, it is a store of a newer version, another program holds it, it lies on
    /// a stick or a network drive, it is damaged, or entries that were confirmed are missing (the head file
    /// beside it knows more than the journal).
    [[nodiscard]] static model::Result<Store> open(const std::string& path,
                                                   RandomBytes random = system_random());
    Store(Store&&) noexcept;
    Store& operator=(Store&&) noexcept;
    ~Store();

    /// This tablet's name, made once: a UUIDv7 text.
    [[nodiscard]] const std::string& device() const;

    /// Made with the store.
    [[nodiscard]] const Identity& identity() const;
    /// A new life with a new key, after which the tablet has to be enrolled again.
    [[nodiscard]] model::Result<std::int64_t> begin_life(model::Timestamp at);

    /// Trusts an office's key from now on. Pinned again, nothing changes.
    [[nodiscard]] model::Done pin(const PinnedKey& key);
    [[nodiscard]] std::vector<PinnedKey> pinned() const; ///< in the order in which they were pinned

    /// Takes what the office says. A bundle becomes Received when its digest is confirmed; what is held back
    /// follows the newest receipt. Receipts can be lost, repeated and come in any order. Problem when it is
    /// for another tablet.
    [[nodiscard]] model::Result<ReceiptNews> take_receipt(const ReceiptRow& receipt);
    /// Bundles that the office holds in the name of this tablet's present life and that this store never
    /// wrote: the store was put back from a backup, or copied. Until a new life begins no bundle is made.
    [[nodiscard]] std::vector<model::NumberedDigest> written_elsewhere() const;
    /// Digests of bundles whose bytes may be dropped (may_drop).
    [[nodiscard]] std::vector<std::string> droppable(model::Timestamp now) const;
    /// Drops the bytes of bundles, after a person was asked; entries and the rest of the row stay. All or
    /// none; Problem for one that may not be dropped.
    [[nodiscard]] model::Done drop(const std::vector<std::string>& digests, model::Timestamp now);

    /// Set after a disk fault: nothing more is kept, every call that can says so, and answers without room
    /// for a Problem (head, visits, newest_day_pack, bundle_of, outbox) are empty. Open the store again.
    [[nodiscard]] std::optional<model::Problem> fault() const;

    /// A new visit's id.
    [[nodiscard]] model::Id new_visit(model::Timestamp now);

    /// Appends entries to a visit in one transaction and returns after the disk has them. On a Problem
    /// nothing was confirmed; after a disk fault the store must be opened again, and then has all of these
    /// entries or, as a rule, none of them: a disk that fails in the last step of a commit cannot tell.
    [[nodiscard]] model::Result<std::vector<Kept>> append(const model::Id& visit,
                                                          const std::vector<model::Body>& bodies,
                                                          model::Timestamp at, const std::string& by);

    /// The visit's entries of every device, by device and sequence; chain and hashes verified on the way.
    [[nodiscard]] model::Result<std::vector<model::Entry>> entries(const model::Id& visit) const;
    /// Their exact canonical texts in the same order.
    [[nodiscard]] model::Result<std::vector<std::string>> texts(const model::Id& visit) const;
    /// Hash of this device's last entry in the visit; "" when there is none.
    [[nodiscard]] std::string head(const model::Id& visit) const;
    [[nodiscard]] std::vector<VisitRow> visits() const;

    /// Keeps a day pack. Problem when one with a higher number is already here, or one with the same number
    /// and other content.
    [[nodiscard]] model::Done keep_day_pack(const PackRow& pack);
    [[nodiscard]] std::optional<PackRow> newest_day_pack() const;

    /// Allots the next bundle number, lets `make` build the bytes for it (given the number and the digest
    /// of the bundle before, "" for the first) and keeps them, all in one transaction. When the visit already
    /// has a closed bundle of that revision or a later one, that one is returned and nothing is made; an open
    /// one is always made. Problem when a new life has to begin first (written_elsewhere).
    struct MadeBundle {
        std::string digest;
        std::string bytes;
    };
    struct Wanted {
        std::int64_t revision = 1;
        bool is_open = false;
    };
    [[nodiscard]] model::Result<OutboxRow> keep_bundle(
        const model::Id& visit, model::Timestamp at,
        const std::function<model::Result<MadeBundle>(std::int64_t seq, const std::string& prev)>& make,
        const Wanted& wanted = {1, false});
    /// The newest closed one.
    [[nodiscard]] std::optional<OutboxRow> bundle_of(const model::Id& visit) const;
    [[nodiscard]] std::vector<OutboxRow> outbox() const; ///< without bytes
    /// The bytes of one bundle. Problem when there is none with this digest, or its bytes were dropped.
    [[nodiscard]] model::Result<std::string> bundle_bytes(const std::string& digest) const;
    /// A bundle's state only goes forward; an empty `file` leaves the one that is there. Received is what
    /// only a receipt can say (take_receipt): a Problem here.
    [[nodiscard]] model::Done mark_bundle(const std::string& digest, HandOver state, const std::string& file);

    /// People with a PIN on this tablet, sorted.
    [[nodiscard]] std::vector<std::string> people_with_pin() const;
    /// How the next try stands, counting nothing: NoPin, or Wait with what is left to wait, which may be 0.
    [[nodiscard]] PinTry look_at_pin(const std::string& person, PinMoment when) const;
    /// Tries a PIN; a wrong try is counted on the disk before the PIN is looked at (pins.hpp).
    [[nodiscard]] model::Result<PinTry> try_pin(const std::string& person, std::string_view digits,
                                                PinMoment when);
    /// Sets or changes a PIN: the first on a tablet is a lead's, every other one is witnessed (pins.hpp).
    [[nodiscard]] model::Done set_pin(const model::Person& person, std::string_view digits,
                                      const std::optional<PinWitness>& witness, PinMoment when,
                                      PinCost cost = kPinCost);

    /// A verified copy of everything under `path`, which must not be there yet (backup.hpp).
    [[nodiscard]] model::Done back_up(const std::string& path) const;

    /// Drops every rebuilt table and makes it again from the fixed ones.
    [[nodiscard]] model::Done rebuild();
    /// Writes the log back into the main file and empties it; for quiet moments.
    [[nodiscard]] model::Done tidy();

private:
    struct Inside;
    explicit Store(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> inside_;
};

} // namespace crossarm::store
