// What a store confirmed, for comparing with what it has afterwards.
#pragma once

#include "checklist/store/database.hpp"
#include "checklist/store/store.hpp"
#include "tests/support/small_visit.hpp"
#include "tests/support/temp_store.hpp"

#include <cstddef>
#include <map>
#include <string>
#include <vector>

namespace crossarm::tests {

/// Hashes by visit in order of sequence, and digests of bundles.
struct Confirmed {
    std::map<model::Id, std::vector<std::string>> entries;
    std::vector<std::string> bundles;
    std::size_t count = 0;

    void add(const std::vector<store::Kept>& kept) {
        for (const store::Kept& one : kept) {
            entries[one.entry.visit].push_back(one.hash);
            ++count;
        }
    }
};

/// How many confirmed entries and bundles are not in the store as they were confirmed.
inline std::size_t lost(const store::Store& store, const Confirmed& confirmed) {
    std::size_t missing = 0;
    for (const auto& [visit, hashes] : confirmed.entries) {
        const auto texts = store.texts(visit);
        for (std::size_t i = 0; i < hashes.size(); ++i) {
            const bool there = texts && i < texts->size() && model::hash_of((*texts)[i]) == hashes[i];
            missing += there ? 0U : 1U;
        }
    }
    const auto outbox = store.outbox();
    for (std::size_t i = 0; i < confirmed.bundles.size(); ++i) {
        missing += i < outbox.size() && outbox[i].digest == confirmed.bundles[i] ? 0U : 1U;
    }
    return missing;
}

/// How many entries the store has.
inline std::size_t size_of(const store::Store& store) {
    std::size_t all = 0;
    for (const store::VisitRow& row : store.visits()) {
        all += static_cast<std::size_t>(row.entries);
    }
    return all;
}

/// SQLite's own full check of a closed store: "ok".
inline std::string integrity_of(const std::string& path) {
    store::Database database(path, store::Database::Make::No);
    database.run("PRAGMA locking_mode=EXCLUSIVE");
    return database.text("PRAGMA integrity_check");
}

/// The bytes of an empty, closed store.
inline std::string empty_store() {
    TempFolder folder;
    const std::string path = folder.file("tablet.store");
    {
        const auto made = store::Store::open(path, seeded_random(1));
    }
    return read_file(path);
}

/// One intent after the other, as a crew would: visits of 24 entries (or of `intents` intents), each
/// closed with a bundle. `confirm` is called with what was kept. Ends at the first Problem, or after `visits`
/// visits without one.
template<typename ConfirmEntries, typename ConfirmBundle>
model::Done work(store::Store& store, int visits, int intents, const ConfirmEntries& confirm,
                 const ConfirmBundle& confirm_bundle) {
    for (int number = 0; number < visits; ++number) {
        const model::Id visit = store.new_visit(kMorning);
        for (int step = 0; step < intents; ++step) {
            std::vector<model::Body> bodies = {step == 0 ? opened()
                                               : step == intents - 1
                                                   ? signed_off(store.head(visit))
                                                   : found("tank.leak", model::Grade::Watch)};
            if (step % 10 == 5) {
                bodies.push_back(found("tank.rust", model::Grade::Repair, "seam below the third fin"));
            }
            const auto kept = store.append(visit, bodies, kMorning, "P-014");
            if (!kept) {
                return kept.problem();
            }
            confirm(*kept);
        }
        const auto bundle =
            store.keep_bundle(visit, kMorning, [&](std::int64_t seq, const std::string& prev) {
                const std::string bytes = std::to_string(seq) + prev + std::string(5000, 'b');
                return model::Result(store::Store::MadeBundle{model::hash_of(bytes), bytes});
            });
        if (!bundle) {
            return bundle.problem();
        }
        confirm_bundle(bundle->digest);
        if (number % 2 == 1) {
            if (const auto tidied = store.tidy(); !tidied) {
                return tidied;
            }
        }
    }
    return {};
}

inline model::Done work(store::Store& store, int visits, Confirmed& confirmed, int intents = 22) {
    return work(
        store, visits, intents, [&](const std::vector<store::Kept>& kept) { confirmed.add(kept); },
        [&](const std::string& digest) { confirmed.bundles.push_back(digest); });
}

} // namespace crossarm::tests
