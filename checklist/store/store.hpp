// The tablet's store: one SQLite file, one connection, everything that happened in it.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "checklist/store/pin_hash.hpp"
#include "checklist/store/pin_try.hpp"

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
    std::string file; ///< where it was written last; may be empty
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
    /// of the bundle before, "" for the first) and keeps them, all in one transaction. When the visit
    /// already has a bundle that one is returned and nothing is made.
    struct MadeBundle {
        std::string digest;
        std::string bytes;
    };
    [[nodiscard]] model::Result<OutboxRow> keep_bundle(
        const model::Id& visit, model::Timestamp at,
        const std::function<model::Result<MadeBundle>(std::int64_t seq, const std::string& prev)>& make);
    [[nodiscard]] std::optional<OutboxRow> bundle_of(const model::Id& visit) const;
    [[nodiscard]] std::vector<OutboxRow> outbox() const; ///< without bytes
    /// A bundle's state only goes forward; an empty `file` leaves the one that is there.
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
