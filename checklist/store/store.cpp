#include "checklist/store/store.hpp"

#include "checklist/store/backup.hpp"
#include "checklist/store/head_file.hpp"
#include "checklist/store/identity.hpp"
#include "checklist/store/journal.hpp"
#include "checklist/store/new_store.hpp"
#include "checklist/store/outbox.hpp"
#include "checklist/store/packs.hpp"
#include "checklist/store/pins.hpp"
#include "checklist/store/place.hpp"
#include "checklist/store/receipts.hpp"
#include "checklist/store/schema.hpp"
#include "checklist/store/settings.hpp"
#include "checklist/store/verify.hpp"
#include "checklist/store/visit_index.hpp"

#include <sodium.h>

#include <utility>

namespace crossarm::store {

RandomBytes system_random() {
    return [](std::uint8_t* out, std::size_t size) {
        model::require(sodium_init() >= 0, "the system gives random bytes");
        randombytes_buf(out, size);
    };
}

struct Store::Inside {
    std::string path;
    Database database;
    HeadFile head_file;
    Pen pen;
    Head head;
    Identity identity;
    std::optional<model::Problem> fault = std::nullopt;

    /// The connection has seen a fault: what it holds in memory and what the disk has may differ from now
    /// on. It is closed without touching the log, and not used again.
    void give_up(const DiskFault& disk_fault) {
        fault = model::Problem{path,
                               std::string("the store was closed after a disk fault (") + disk_fault.what() +
                                   "); nothing more is kept",
                               "open the store again and look at what is there before going on"};
        database.abandon();
    }

    [[nodiscard]] model::Problem not_kept(const DiskFault& disk_fault) const {
        return {path, std::string("not kept: ") + disk_fault.what(),
                "open the store again and look at what is there before going on"};
    }

    /// Runs `work` unless there was a fault before, and turns a fault into a Problem.
    template<typename Work>
    auto guarded(const Work& work) -> decltype(work()) {
        if (fault) {
            return *fault;
        }
        try {
            return work();
        } catch (const DiskFault& disk_fault) {
            give_up(disk_fault);
            return not_kept(disk_fault);
        }
    }

    /// The same for answers that have no room for a Problem: they are empty then.
    template<typename Answer, typename Work>
    Answer guarded_or_empty(const Work& work) {
        if (!fault) {
            try {
                return work();
            } catch (const DiskFault& disk_fault) {
                give_up(disk_fault);
            }
        }
        return Answer{};
    }
};

Store::Store(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

model::Result<Store> Store::open(const std::string& path, RandomBytes random) {
    const auto settled = settle_path(path);
    if (!settled) {
        return settled.problem();
    }
    if (auto place = check_filesystem(*settled, filesystem_of(*settled)); !place) {
        return place.problem();
    }
    try {
        const auto there = look_at(*settled);
        if (!there) {
            return there.problem();
        }
        if (*there == There::Nothing) {
            if (auto made = make_store(*settled, random); !made) {
                return made.problem();
            }
        }
        const bool closed_cleanly = size_of(*settled + "-wal") == 0;
        Database database(*settled, Database::Make::No);
        // As long as the store may still be refused, its log stays as it was found.
        database.leave_log_on_close(!closed_cleanly);
        keep_private(*settled);
        apply_settings(database);
        if (auto verified = verify_store(database, *settled, closed_cleanly); !verified) {
            return verified.problem();
        }
        if (migrate(database, migrations())) {
            if (auto rebuilt = rebuild_index(database, *settled); !rebuilt) {
                return rebuilt.problem();
            }
        }
        make_first_identity(database, random, birth_of(*settled));
        database.leave_log_on_close(false);

        auto head_file = HeadFile::open(*settled + ".head");
        if (!head_file) {
            return head_file.problem();
        }
        const Head head = head_of(database);
        const Identity identity = read_identity(database);
        head_file->write(head);
        return Store(
            std::make_unique<Inside>(Inside{*settled, std::move(database), std::move(head_file).value(),
                                            Pen{head.device, std::move(random), {}}, head, identity}));
    } catch (const DiskFault& fault) {
        return opening_problem(*settled, fault);
    }
}

const std::string& Store::device() const {
    return inside_->pen.device;
}

model::Id Store::new_visit(model::Timestamp now) {
    return make_id(inside_->pen.ids, inside_->pen.random, now);
}

std::optional<model::Problem> Store::fault() const {
    return inside_->fault;
}

model::Result<std::vector<Kept>> Store::append(const model::Id& visit, const std::vector<model::Body>& bodies,
                                               model::Timestamp at, const std::string& by) {
    Inside& in = *inside_;
    return in.guarded([&]() -> model::Result<std::vector<Kept>> {
        if (bodies.empty()) {
            return std::vector<Kept>{};
        }
        auto kept = append_entries(in.database, in.pen, visit, bodies, at, by);
        if (kept) {
            in.head.visit = visit;
            in.head.seq = kept->back().entry.seq;
            in.head.hash = kept->back().hash;
            in.head_file.write(in.head);
        }
        return kept;
    });
}

model::Result<std::vector<model::Entry>> Store::entries(const model::Id& visit) const {
    Inside& in = *inside_;
    return in.guarded([&]() -> model::Result<std::vector<model::Entry>> {
        auto read = read_visit(in.database, visit, in.path);
        if (!read) {
            return read.problem();
        }
        return std::move(read->entries);
    });
}

model::Result<std::vector<std::string>> Store::texts(const model::Id& visit) const {
    Inside& in = *inside_;
    return in.guarded([&]() -> model::Result<std::vector<std::string>> {
        auto read = read_visit(in.database, visit, in.path);
        if (!read) {
            return read.problem();
        }
        return std::move(read->texts);
    });
}

std::string Store::head(const model::Id& visit) const {
    Inside& in = *inside_;
    return in.guarded_or_empty<std::string>([&] {
        const auto last = last_of(in.database, visit, in.pen.device);
        return last ? last->hash : std::string();
    });
}

std::vector<VisitRow> Store::visits() const {
    Inside& in = *inside_;
    return in.guarded_or_empty<std::vector<VisitRow>>([&] { return read_index(in.database); });
}

const Identity& Store::identity() const {
    return inside_->identity;
}

model::Result<std::int64_t> Store::begin_life(model::Timestamp at) {
    Inside& in = *inside_;
    return in.guarded([&]() -> model::Result<std::int64_t> {
        const auto next = next_identity(in.database, in.pen.random, at);
        if (!next) {
            return next.problem();
        }
        in.identity = *next;
        return in.identity.life;
    });
}

model::Done Store::pin(const PinnedKey& key) {
    Inside& in = *inside_;
    return in.guarded([&] { return keep_pin(in.database, key); });
}

std::vector<PinnedKey> Store::pinned() const {
    Inside& in = *inside_;
    return in.guarded_or_empty<std::vector<PinnedKey>>([&] { return read_pins(in.database); });
}

model::Result<ReceiptNews> Store::take_receipt(const ReceiptRow& receipt) {
    Inside& in = *inside_;
    return in.guarded([&] { return keep_receipt(in.database, in.pen.device, receipt); });
}

std::vector<model::NumberedDigest> Store::written_elsewhere() const {
    Inside& in = *inside_;
    return in.guarded_or_empty<std::vector<model::NumberedDigest>>(
        [&] { return read_written_elsewhere(in.database); });
}

std::vector<std::string> Store::droppable(model::Timestamp now) const {
    Inside& in = *inside_;
    return in.guarded_or_empty<std::vector<std::string>>([&] { return read_droppable(in.database, now); });
}

model::Done Store::drop(const std::vector<std::string>& digests, model::Timestamp now) {
    Inside& in = *inside_;
    return in.guarded([&] { return drop_bytes(in.database, digests, now); });
}

model::Done Store::keep_day_pack(const PackRow& pack) {
    Inside& in = *inside_;
    return in.guarded([&] { return keep_pack(in.database, pack); });
}

std::optional<PackRow> Store::newest_day_pack() const {
    Inside& in = *inside_;
    return in.guarded_or_empty<std::optional<PackRow>>([&] { return newest_pack(in.database); });
}

model::Result<OutboxRow> Store::keep_bundle(
    const model::Id& visit, model::Timestamp at,
    const std::function<model::Result<MadeBundle>(std::int64_t seq, const std::string& prev)>& make,
    const Wanted& wanted) {
    Inside& in = *inside_;
    return in.guarded([&] {
        auto kept = keep_made_bundle(in.database, visit, at, in.identity.life, wanted, make);
        if (kept && kept->seq > in.head.bundle_seq) {
            in.head.bundle_seq = kept->seq;
            in.head.bundle_digest = kept->digest;
            in.head_file.write(in.head);
        }
        return kept;
    });
}

std::optional<OutboxRow> Store::bundle_of(const model::Id& visit) const {
    Inside& in = *inside_;
    return in.guarded_or_empty<std::optional<OutboxRow>>(
        [&] { return newest_bundle_of(in.database, visit); });
}

std::vector<OutboxRow> Store::outbox() const {
    Inside& in = *inside_;
    return in.guarded_or_empty<std::vector<OutboxRow>>([&] { return read_outbox(in.database); });
}

model::Result<std::string> Store::bundle_bytes(const std::string& digest) const {
    Inside& in = *inside_;
    return in.guarded([&]() -> model::Result<std::string> {
        auto bytes = bytes_of_bundle(in.database, digest);
        if (!bytes || bytes->empty()) {
            return model::Problem{in.path, "the bytes of bundle " + digest.substr(0, 8) + " are not here",
                                  "look in the list of bundles for the right one"};
        }
        return *std::move(bytes);
    });
}

model::Done Store::mark_bundle(const std::string& digest, HandOver state, const std::string& file) {
    Inside& in = *inside_;
    return in.guarded([&] { return mark(in.database, digest, state, file); });
}

std::vector<std::string> Store::people_with_pin() const {
    Inside& in = *inside_;
    return in.guarded_or_empty<std::vector<std::string>>([&] { return store::people_with_pin(in.database); });
}

PinTry Store::look_at_pin(const std::string& person, PinMoment when) const {
    Inside& in = *inside_;
    return in.guarded_or_empty<PinTry>([&] { return store::look_at_pin(in.database, person, when); });
}

model::Result<PinTry> Store::try_pin(const std::string& person, std::string_view digits, PinMoment when) {
    Inside& in = *inside_;
    return in.guarded([&] { return store::try_pin(in.database, person, digits, when); });
}

model::Done Store::set_pin(const model::Person& person, std::string_view digits,
                           const std::optional<PinWitness>& witness, PinMoment when, PinCost cost) {
    Inside& in = *inside_;
    return in.guarded([&] { return store::set_pin(in.database, person, digits, witness, when, cost); });
}

model::Done Store::back_up(const std::string& path) const {
    Inside& in = *inside_;
    return in.guarded([&] {
        return store::back_up(in.database, path, [&](Database& copy) { return verify_journal(copy, path); });
    });
}

model::Done Store::rebuild() {
    Inside& in = *inside_;
    return in.guarded([&] { return rebuild_index(in.database, in.path); });
}

model::Done Store::tidy() {
    Inside& in = *inside_;
    return in.guarded([&]() -> model::Done {
        if (in.database.number("PRAGMA wal_checkpoint(TRUNCATE)") != 0) {
            return model::Problem{in.path, "the log could not be written back just now",
                                  "nothing is lost; it is tried again later"};
        }
        return {};
    });
}

} // namespace crossarm::store
