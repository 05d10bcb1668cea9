#include "tests/sim/sim_tablet.hpp"

#include "sync/bundle/bundle.hpp"
#include "sync/bundle/receipt.hpp"
#include "tests/sim/broken.hpp"
#include "tests/support/sample_visit.hpp"
#include "tests/support/temp_store.hpp"

#include <filesystem>

namespace crossarm::tests {

namespace {
namespace fs = std::filesystem;
constexpr std::int64_t kStart_ms = 1'773'461'527'250;
constexpr std::int64_t kHour_ms = 3'600'000;
} // namespace

SimTablet::SimTablet(std::string path, FaultyDisk& disk, std::mt19937& dice, Genuine& genuine, Enrol enrol)
    : path_(std::move(path)), disk_(disk), dice_(dice), genuine_(genuine), enrol_(std::move(enrol)),
      clock_ms_(kStart_ms + static_cast<std::int64_t>(dice() % 48) * kHour_ms) {
    reopen();
    device_ = store_->device();
}

void SimTablet::reopen(bool moved_head_away) {
    store_.reset();
    if (moved_head_away) {
        fs::remove(path_ + ".head");
    }
    store_.emplace(must(store::Store::open(path_, seeded_random(static_cast<std::uint32_t>(dice_()))),
                        "a tablet's store opens again"));
}

void SimTablet::cut(bool cut_power) {
    if (cut_power) {
        disk_.cut_power_at(1 + dice_() % 25);
    }
}

void SimTablet::mend() {
    if (disk_.has_failed()) {
        store_.reset();
        disk_.power_comes_back(dice_, /*torn=*/dice_() % 2 == 0, path_);
        reopen();
        // What was under way may be there whole; it was not called kept, and is not held against anyone.
        for (const store::VisitRow& row : store_->visits()) {
            for (const std::string& text : must(store_->texts(row.visit), "a visit is read back")) {
                here_.insert(model::hash_of(text));
            }
        }
        check_kept();
    }
    disk_.heal();
}

void SimTablet::append(const model::Id& visit, const std::vector<model::Body>& bodies,
                       const std::string& by) {
    const auto kept = store_->append(visit, bodies, now(), by);
    promise(kept.ok() || disk_.has_failed(),
            "entries are kept" + (kept.ok() ? "" : ": " + model::to_text(kept.problem())));
    if (kept) {
        for (const store::Kept& one : *kept) {
            here_.insert(one.hash);
            kept_.insert(one.hash);
        }
        since_signed_[visit] += kept->size();
    }
}

bool SimTablet::is_signed(const model::Id& visit) const {
    const auto entries = must(store_->entries(visit), "a visit is read back");
    return !entries.empty() && std::holds_alternative<model::Signed>(entries.back().body);
}

void SimTablet::record(std::optional<model::Id> joined, bool cut_power) {
    const bool fresh = visits_.empty() || joined || dice_() % 3 == 0;
    model::Id visit = fresh ? joined.value_or(store_->new_visit(now())) : visits_[dice_() % visits_.size()];
    if (is_signed(visit) && since_signed_[visit] > 0) {
        return; // signed, and the power went off before its bundle: that comes first
    }
    cut(cut_power);
    const bool knows = std::ranges::find(visits_, visit) != visits_.end();
    std::vector<model::Body> bodies;
    if (!knows || store_->head(visit).empty()) {
        bodies.push_back(model::Opened{sample_structure().id, "upkeep", sample_protocol_digest(), 12});
    }
    bodies.push_back(
        model::Found{{"tank", "tank.leaks", static_cast<model::Grade>(dice_() % 4), "", ""}, std::nullopt});
    if (!knows) {
        visits_.push_back(visit);
    }
    if (!disk_.has_failed()) {
        append(visit, bodies, "P-014");
    }
    mend();
}

void SimTablet::seal_visit(bool open_copy, bool cut_power) {
    if (visits_.empty()) {
        return;
    }
    const model::Id visit = visits_[dice_() % visits_.size()];
    if (store_->head(visit).empty() || since_signed_[visit] == 0) {
        return;
    }
    const bool has_signature = is_signed(visit); // asked before the power may go
    if (open_copy && has_signature) {
        return;
    }
    cut(cut_power);
    if (!open_copy && !has_signature) {
        append(visit, {model::Signed{store_->head(visit), "Seen"}}, "P-003");
    }
    const std::int64_t revision = revisions_[visit] + 1;
    const auto made =
        disk_.has_failed()
            ? model::Result<store::OutboxRow>(model::Problem{})
            : store_->keep_bundle(
                  visit, now(),
                  [&](std::int64_t seq, const std::string& prev) -> model::Result<store::Store::MadeBundle> {
                      bundle::Bundle body;
                      body.device = device_;
                      body.life = life();
                      body.seq = seq;
                      body.prev = prev;
                      body.visit = visit;
                      body.revision = revision;
                      body.is_open = open_copy;
                      body.protocol = "upkeep";
                      body.protocol_digest = sample_protocol_digest();
                      body.engine = "0.1.0";
                      body.day_pack = 12;
                      body.structure = sample_structure();
                      auto texts = store_->texts(visit);
                      if (!texts) {
                          return texts.problem();
                      }
                      body.entries = *texts;
                      bundle::Sealed sealed =
                          bundle::write_bundle(body, seal::KeyPair::from_seed(store_->identity().seed));
                      return store::Store::MadeBundle{sealed.digest, sealed.bytes};
                  },
                  {revision, open_copy});
    if (made) {
        if (!open_copy) {
            revisions_[visit] = made->revision;
            since_signed_[visit] = 0;
        }
    } else if (!disk_.has_failed()) {
        // Only a tablet that was told of bundles it never wrote is allowed to refuse.
        promise(!store_->written_elsewhere().empty(), "a bundle is made: " + model::to_text(made.problem()));
        disk_.heal(); // the cut was to hit this tablet; beginning a life, the office's disk is at work too
        begin_life();
    }
    mend();
    for (const store::OutboxRow& row : store_->outbox()) {
        if (!genuine_.contains(row.digest)) {
            for (const bundle::Outgoing& out : outgoing()) {
                if (out.digest == row.digest) {
                    genuine_[row.digest] = must(out.bytes(), "a bundle is read back");
                }
            }
        }
    }
}

void SimTablet::jump_clock() {
    clock_ms_ += (static_cast<std::int64_t>(dice_() % 97) - 48) * kHour_ms;
}

void SimTablet::back_up() {
    must(store_->tidy(), "a store is tidied");
    backup_ = Backup{read_file(path_), here_, visits_, revisions_, since_signed_};
}

void SimTablet::put_back(bool new_life) {
    store_.reset();
    disk_.forget(path_);
    write_file(path_, backup_->bytes);
    for (const char* tail : {"-wal", "-journal"}) {
        fs::remove(path_ + tail);
    }
    // The head file knows of entries that the backup lacks: the store must say so before it goes on.
    const bool lost = !std::ranges::includes(backup_->here, here_);
    if (lost) {
        const auto refused = store::Store::open(path_, seeded_random(1));
        promise(!refused.ok() || read_file(path_ + ".head").empty(), "a store put back unseen is refused");
    }
    reopen(/*moved_head_away=*/true);
    // What the hardware took with it can be asked of the office only when it had come there.
    for (const std::string& hash : here_) {
        if (!backup_->here.contains(hash)) {
            kept_.erase(hash);
        }
    }
    here_ = backup_->here;
    visits_ = backup_->visits;
    revisions_ = backup_->revisions;
    since_signed_ = backup_->since_signed;
    if (new_life) {
        begin_life();
    }
    check_kept();
}

std::vector<bundle::Outgoing> SimTablet::outgoing() const {
    std::vector<bundle::Outgoing> out;
    store::Store& store = const_cast<store::Store&>(*store_);
    for (const store::OutboxRow& row : store.outbox()) {
        out.push_back({device_, row.life, row.seq, row.digest,
                       [&store, digest = row.digest]() { return store.bundle_bytes(digest); }});
    }
    return out;
}

void SimTablet::handed_over(const std::string& digest, const std::string& path) {
    must(store_->mark_bundle(digest, store::HandOver::HandedOver, path), "a hand-over is noted");
}

void SimTablet::take_receipt(const std::string& bytes, const seal::KeyRing& office) {
    const auto read = bundle::read_receipt(bytes, "receipt.json", office);
    if (read && read->receipt.device == device_) {
        (void)store_->take_receipt({read->digest, read->receipt, bytes, now()});
    }
}

void SimTablet::check_kept() const {
    std::set<std::string> found;
    for (const store::VisitRow& row : store_->visits()) {
        for (const std::string& text : must(store_->texts(row.visit), "a visit is read back")) {
            promise(found.insert(model::hash_of(text)).second, "an entry is in the journal once");
        }
    }
    for (const std::string& hash : kept_) {
        promise(!here_.contains(hash) || found.contains(hash), "an entry that was called kept is there");
    }
}

void SimTablet::begin_life() {
    // What the life before has sealed can only be taken when that one was enrolled.
    enrol();
    // Put back twice from one backup, the next life has been used up: another one is begun.
    do {
        must(store_->begin_life(now()), "a new life begins");
    } while (!enrol_(device_, life(), seal::KeyPair::from_seed(store_->identity().seed).public_key()));
}

void SimTablet::enrol() {
    promise(enrol_(device_, life(), seal::KeyPair::from_seed(store_->identity().seed).public_key()),
            "a tablet is enrolled");
}

std::optional<model::Id> SimTablet::some_visit() {
    return visits_.empty() ? std::nullopt : std::optional(visits_[dice_() % visits_.size()]);
}

} // namespace crossarm::tests
