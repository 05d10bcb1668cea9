// A tablet of the simulation: a real store, what its screen has called kept, and what was sealed in its name.
#pragma once

#include "checklist/store/store.hpp"
#include "sync/bundle/hand_over.hpp"
#include "sync/seal/key_ring.hpp"
#include "tests/faults/faulty_disk.hpp"

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <random>
#include <set>
#include <string>
#include <vector>

namespace crossarm::tests {

/// Everything that was ever truly sealed: file bytes by digest.
using Genuine = std::map<std::string, std::string>;

class SimTablet {
public:
    /// Asks the office to know a key of this tablet.
    using Enrol = std::function<bool(const std::string& device, std::int64_t life, const seal::PublicKey&)>;
    SimTablet(std::string path, FaultyDisk& disk, std::mt19937& dice, Genuine& genuine, Enrol enrol);

    /// Opens or goes on with a visit: one or two entries. May lose its power meanwhile.
    void record(std::optional<model::Id> joined, bool cut_power);
    /// Signs a visit at hand and writes its bundle; later again as an amendment. `open`: a copy of it before.
    void seal_visit(bool open_copy, bool cut_power);
    void jump_clock();

    void back_up();
    /// The tablet is put back from its backup; with a new life, as it is told to, or without.
    void put_back(bool new_life);
    [[nodiscard]] bool has_backup() const { return backup_.has_value(); }

    [[nodiscard]] std::vector<bundle::Outgoing> outgoing() const;
    void handed_over(const std::string& digest, const std::string& path);
    void take_receipt(const std::string& bytes, const seal::KeyRing& office);

    /// Throws when an entry that was called kept is not there.
    void check_kept() const;
    /// Hashes of entries that must be here or at the office.
    [[nodiscard]] const std::set<std::string>& kept() const { return kept_; }
    [[nodiscard]] bool holds(const std::string& hash) const { return here_.contains(hash); }
    [[nodiscard]] std::vector<store::OutboxRow> outbox() const { return store_->outbox(); }

    [[nodiscard]] const std::string& device() const { return device_; }
    [[nodiscard]] std::int64_t life() const { return store_->identity().life; }
    void enrol();
    [[nodiscard]] std::optional<model::Id> some_visit();

private:
    struct Backup {
        std::string bytes;
        std::set<std::string> here;
        std::vector<model::Id> visits;
        std::map<model::Id, std::int64_t> revisions;
        std::map<model::Id, std::size_t> since_signed;
    };
    void begin_life();
    [[nodiscard]] bool is_signed(const model::Id& visit) const;
    void reopen(bool moved_head_away = false);
    void append(const model::Id& visit, const std::vector<model::Body>& bodies, const std::string& by);
    void cut(bool cut_power);
    void mend();
    [[nodiscard]] model::Timestamp now() { return {clock_ms_ += 1'000 + dice_() % 60'000, 330}; }

    std::string path_;
    FaultyDisk& disk_;
    std::mt19937& dice_;
    Genuine& genuine_;
    Enrol enrol_;
    std::int64_t clock_ms_;
    std::optional<store::Store> store_;
    std::string device_;
    std::vector<model::Id> visits_;
    std::map<model::Id, std::int64_t> revisions_;   ///< of the last closed bundle
    std::map<model::Id, std::size_t> since_signed_; ///< entries after the last signature
    std::set<std::string> here_;                    ///< hashes of entries that this store has
    std::set<std::string> kept_; ///< all that were ever called kept and not lost with the hardware
    std::optional<Backup> backup_;
};

} // namespace crossarm::tests
