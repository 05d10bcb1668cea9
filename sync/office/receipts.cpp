#include "sync/office/receipts.hpp"

#include "checklist/model/digest.hpp"
#include "checklist/store/database.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/receipt.hpp"
#include "sync/office/held_back.hpp"
#include "sync/office/office_keys.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

namespace crossarm::office {

namespace {

using model::NumberedDigest;
using model::Result;

constexpr std::int64_t kListedMs = std::int64_t{90} * 24 * 3600 * 1000;

struct Row {
    NumberedDigest name;
    std::string prev;
    std::int64_t taken_ms = 0;
};

Result<std::vector<Row>> rows_of(const OfficeStore& store, const std::string& device) {
    std::vector<Row> out;
    const model::Done done = store.work([&](store::Database& database) -> model::Done {
        store::Statement rows(database, "SELECT seq, life, digest, prev, taken_ms FROM bundle "
                                        "WHERE device = ?1 ORDER BY seq, digest");
        rows.bind(1, device);
        while (rows.step()) {
            out.push_back({{rows.number(0), rows.number(1), rows.text(2)}, rows.text(3), rows.number(4)});
        }
        return {};
    });
    if (!done) {
        return done.problem();
    }
    return out;
}

/// The bundles that are here with every one before them. `rows` are in order of number.
std::map<std::string, std::int64_t> complete_ones(const std::vector<Row>& rows) {
    std::map<std::string, std::int64_t> complete; // digest -> number
    for (const Row& row : rows) {
        const auto before = complete.find(row.prev);
        if (row.prev.empty() ? row.name.seq == 1
                             : before != complete.end() && before->second + 1 == row.name.seq) {
            complete.emplace(row.name.digest, row.name.seq);
        }
    }
    return complete;
}

void add_sequence(const std::vector<Row>& rows, model::Receipt& receipt) {
    std::set<std::string> here;
    std::map<std::int64_t, int> times;
    for (const Row& row : rows) {
        here.insert(row.name.digest);
        ++times[row.name.seq];
    }
    for (const Row& row : rows) {
        const NumberedDigest before{row.name.seq - 1, row.name.life, row.prev};
        const bool listed =
            std::ranges::find(receipt.gaps, row.prev, &NumberedDigest::digest) != receipt.gaps.end();
        if (!row.prev.empty() && !here.contains(row.prev) && !listed) {
            receipt.gaps.push_back(before);
        }
    }
    for (const auto& [seq, count] : times) {
        if (count > 1) {
            receipt.forks.push_back(seq);
        }
    }
}

/// Held-back files whose seal names a key of this tablet. Their signature may be anyone's: a receipt only
/// repeats what is lying there.
Result<std::vector<model::HeldBackFile>> held_of(const OfficeStore& store, const std::string& device) {
    const auto known = tablets(store);
    const auto held = HeldBack(store.path()).list();
    if (!known || !held) {
        return known ? held.problem() : known.problem();
    }
    std::set<std::string> keys;
    for (const KnownTablet& tablet : *known) {
        if (tablet.device == device) {
            keys.insert(seal::key_id(tablet.key));
        }
    }
    std::vector<model::HeldBackFile> out;
    for (const HeldFile& file : *held) {
        const auto bytes = bundle::read_whole(file.copy, bundle::kMostFileBytes);
        if (!bytes || !file.reason) {
            continue;
        }
        const auto found = seal::find_body(*bytes, "", seal::Kind::Bundle);
        if (found && keys.contains(found->seal.by)) {
            out.push_back({found->seal.digest, file.reason->why.what});
        }
    }
    std::ranges::sort(out, {}, &model::HeldBackFile::digest);
    return out;
}

} // namespace

Result<model::Receipt> make_receipt(const OfficeStore& store, const std::string& device,
                                    const std::string& office, model::Timestamp now) {
    const auto rows = rows_of(store, device);
    auto held = held_of(store, device);
    const auto number = next_receipt(store);
    if (!rows || !held || !number) {
        return !rows ? rows.problem() : !held ? held.problem() : number.problem();
    }
    model::Receipt receipt;
    receipt.office = office;
    receipt.epoch = number->epoch;
    receipt.count = number->count;
    receipt.device = device;
    receipt.at = now;
    receipt.held_back = std::move(*held);
    const auto complete = complete_ones(*rows);
    for (const Row& row : *rows) {
        const bool is_complete = complete.contains(row.name.digest);
        if (is_complete && (!receipt.complete_up_to || row.name.seq > receipt.complete_up_to->seq)) {
            receipt.complete_up_to = row.name;
        }
    }
    // The head vouches for the row that it ends; of a fork's other row every bundle is listed.
    std::set<std::string> vouched;
    std::map<std::string, std::string> prev;
    for (const Row& row : *rows) {
        prev.emplace(row.name.digest, row.prev);
    }
    for (std::string at = receipt.complete_up_to ? receipt.complete_up_to->digest : ""; !at.empty();
         at = prev.at(at)) {
        vouched.insert(at);
    }
    for (const Row& row : *rows) {
        if (row.taken_ms + kListedMs > now.utc_ms || !vouched.contains(row.name.digest)) {
            receipt.have.push_back(row.name);
        }
    }
    add_sequence(*rows, receipt);
    return receipt;
}

Result<std::string> make_receipt_file(const OfficeStore& store, const std::string& device,
                                      const std::string& office, model::Timestamp now) {
    const auto receipt = make_receipt(store, device, office, now);
    const auto key = office_key(store, now);
    if (!receipt || !key) {
        return receipt ? key.problem() : receipt.problem();
    }
    return bundle::write_receipt(*receipt, key->pair, key->vouch).bytes;
}

Result<std::vector<std::string>> make_receipt_files(const OfficeStore& store, const std::string& office,
                                                    model::Timestamp now) {
    const auto known = tablets(store);
    if (!known) {
        return known.problem();
    }
    std::vector<std::string> out;
    std::set<std::string> done;
    for (const KnownTablet& tablet : *known) {
        const bool revoked = tablet.revoked_from && tablet.revoked_from->utc_ms <= now.utc_ms;
        if (revoked || !done.insert(tablet.device).second) {
            continue;
        }
        auto file = make_receipt_file(store, tablet.device, office, now);
        if (!file) {
            return file.problem();
        }
        out.push_back(std::move(*file));
    }
    return out;
}

} // namespace crossarm::office
