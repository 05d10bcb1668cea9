// The office's store: every bundle ever taken, byte for byte, and the entries in them.
#pragma once

#include "checklist/model/entry.hpp"
#include "checklist/model/result.hpp"
#include "checklist/model/timestamp.hpp"
#include "sync/bundle/bundle.hpp"

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace crossarm::store {
class Database;
}

namespace crossarm::office {

/// What became of a bundle that was read without a Problem.
struct Taking {
    enum class Kind {
        Taken,       ///< it is on the disk now
        AlreadyHere, ///< it was before, byte for byte
        Refused      ///< an entry of it is here already with other content: nothing of it was kept
    };
    Kind kind = Kind::Taken;
    model::Problem why; ///< for Refused
};

/// One bundle, without its bytes.
struct BundleRow {
    std::string digest;
    std::string device;
    std::int64_t life = 1;
    std::int64_t seq = 0;
    std::string prev;
    model::Id visit;
    bool operator==(const BundleRow&) const = default;
};

/// Content is the set of bundles taken: it does not depend on the order in which they came, nor on repeats.
/// Nothing is kept about a visit but its bundles and entries; a visit is folded from them when it is read.
class OfficeStore {
public:
    enum class Make { No, Yes };
    /// Opens the store at `path`; makes it when there is no file and `make` says so. Problem, and the file is
    /// left as it is, when: it is no office store, it is one of a newer version, another program holds it, it
    /// lies on a stick or a network drive, it is damaged, or bundles that were taken are missing (its head
    /// file <store>.head knows of one that is not there).
    [[nodiscard]] static model::Result<OfficeStore> open(const std::string& path, Make make);
    /// Whether open() said that another program holds the store: then it may be tried again later.
    [[nodiscard]] static bool is_held_by_another(const model::Problem& problem);
    OfficeStore(OfficeStore&&) noexcept;
    OfficeStore& operator=(OfficeStore&&) noexcept;
    ~OfficeStore();

    [[nodiscard]] const std::string& path() const;

    /// Takes a bundle in one transaction: its bytes, its entries; reads the bytes back and compares them
    /// before the commit. `raw` is the file that `read` was read from. Problem for disk faults only: nothing
    /// of this bundle was kept then, as a rule (a disk that fails in the last step of a commit cannot tell),
    /// and the store must be opened again.
    [[nodiscard]] model::Result<Taking> take(const bundle::ReadBundle& read, std::string_view raw,
                                             model::Timestamp at);

    /// Every bundle, by device, life, sequence and digest.
    [[nodiscard]] model::Result<std::vector<BundleRow>> bundles() const;
    /// Those of one visit, in the same order.
    [[nodiscard]] model::Result<std::vector<BundleRow>> bundles_of(const model::Id& visit) const;
    /// Those that name a bundle before them which is not here, and those that share their number with
    /// another: all that sequence.hpp needs, in the same order.
    [[nodiscard]] model::Result<std::vector<BundleRow>> orphans_and_doubles() const;
    /// Whether the bundle with this digest was taken.
    [[nodiscard]] model::Result<bool> has(const std::string& digest) const;
    /// A bundle's bytes as they came.
    [[nodiscard]] model::Result<std::string> raw(const std::string& digest) const;
    /// Every visit, by id.
    [[nodiscard]] model::Result<std::vector<model::Id>> visits() const;
    /// Canonical texts of the entries of one visit from all its bundles, by device, sequence and id.
    [[nodiscard]] model::Result<std::vector<std::string>> texts(const model::Id& visit) const;

    /// A verified copy of everything under `path`, which must not be there yet (checklist/store/backup.hpp).
    [[nodiscard]] model::Done back_up(const std::string& path) const;

    /// Runs `work` on the store's connection, for the other tables of this room. A disk fault becomes a
    /// Problem, as everywhere here.
    [[nodiscard]] model::Done work(const std::function<model::Done(store::Database&)>& work) const;

private:
    struct Inside;
    explicit OfficeStore(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> inside_;
};

/// Canonical texts of all entries, visit after visit.
[[nodiscard]] model::Done each_text(const OfficeStore& store,
                                    const std::function<void(const std::string&)>& take);

} // namespace crossarm::office
