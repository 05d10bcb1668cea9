#include "checklist/store/receipts.hpp"

#include "checklist/store/journal.hpp"
#include "checklist/store/outbox.hpp"

#include <algorithm>

namespace crossarm::store {

namespace {

using model::Problem;
using model::Receipt;

Problem bad_clock() {
    return {"the tablet's clock", "it does not show a date between 1970 and 9999",
            "set date and time of the tablet"};
}

void add_receipt(Database& database, const ReceiptRow& row) {
    Statement insert(database, "INSERT INTO receipt (digest, epoch, count, said_ms, bytes, taken_ms, "
                               "taken_offset) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)");
    insert.bind(1, row.digest).bind(2, row.receipt.epoch).bind(3, row.receipt.count);
    insert.bind(4, row.receipt.at.utc_ms).bind_blob(5, row.bytes);
    insert.bind(6, row.taken_at.utc_ms).bind(7, std::int64_t{row.taken_at.offset_minutes}).finish();
}

/// All bundles that the receipt confirms: those it lists, and the row of ours that its head vouches for.
std::vector<model::NumberedDigest> confirmed_by(Database& database, const Receipt& receipt) {
    std::vector<model::NumberedDigest> out = receipt.have;
    const auto& head = receipt.complete_up_to;
    if (head && digest_at(database, head->seq) == head->digest) {
        // Each bundle names the digest of the one before it, so the head is only there with all of them.
        for (const OutboxRow& row : read_outbox(database)) {
            if (row.seq <= head->seq) {
                out.push_back({row.seq, row.life, row.digest});
            }
        }
    }
    return out;
}

void confirm(Database& database, const ReceiptRow& row) {
    Statement hold(database, "INSERT INTO office_holds (digest, seq, life, receipt, since_ms, since_offset) "
                             "VALUES (?1, ?2, ?3, ?4, ?5, ?6) ON CONFLICT (digest) DO NOTHING");
    Statement mark(database, "UPDATE outbox SET state = 'received' WHERE digest = ?1");
    for (const model::NumberedDigest& bundle : confirmed_by(database, row.receipt)) {
        hold.bind(1, bundle.digest).bind(2, bundle.seq).bind(3, bundle.life).bind(4, row.digest);
        hold.bind(5, row.taken_at.utc_ms).bind(6, std::int64_t{row.taken_at.offset_minutes}).finish();
        mark.bind(1, bundle.digest).finish();
    }
}

/// What is held back is what the newest receipt says: the latest by the office's own clock, then by its
/// count. So the order of arrival does not matter.
bool is_newest(Database& database, const ReceiptRow& row) {
    Statement newest(database, "SELECT digest FROM receipt ORDER BY said_ms DESC, count DESC, digest DESC "
                               "LIMIT 1");
    return newest.step() && newest.text(0) == row.digest;
}

void hold_back(Database& database, const ReceiptRow& row) {
    database.run("DELETE FROM office_holds_back");
    Statement insert(database, "INSERT INTO office_holds_back (digest, reason) VALUES (?1, ?2) "
                               "ON CONFLICT (digest) DO NOTHING");
    for (const model::HeldBackFile& file : row.receipt.held_back) {
        insert.bind(1, file.digest).bind(2, file.reason).finish();
    }
}

} // namespace

bool may_drop(const OutboxRow& row, model::Timestamp now) {
    return row.state == HandOver::Received && row.confirmed_at &&
           row.confirmed_at->utc_ms + kKeepConfirmedMs <= now.utc_ms;
}

model::Result<ReceiptNews> keep_receipt(Database& database, const std::string& device,
                                        const ReceiptRow& row) {
    if (!is_usable(row.taken_at)) {
        return bad_clock();
    }
    if (row.receipt.device != device) {
        return Problem{"receipt " + std::to_string(row.receipt.count),
                       "it is for tablet " + row.receipt.device + ", and this is tablet " + device,
                       "take it to that tablet; nothing was changed here"};
    }
    Transaction transaction(database);
    ReceiptNews news;
    {
        Statement known(database, "SELECT 1 FROM receipt WHERE digest = ?1");
        known.bind(1, row.digest);
        if (known.step()) {
            return news;
        }
    }
    {
        Statement counted(database, "SELECT coalesce(max(count), 0) FROM receipt WHERE epoch = ?1 AND "
                                    "said_ms < ?2");
        counted.bind(1, row.receipt.epoch).bind(2, row.receipt.at.utc_ms);
        news.office_went_back = counted.step() && counted.number(0) >= row.receipt.count;
    }
    const std::int64_t before = database.number("SELECT count(*) FROM outbox WHERE state = 'received'");
    add_receipt(database, row);
    confirm(database, row);
    if (is_newest(database, row)) {
        hold_back(database, row);
    }
    const std::int64_t after = database.number("SELECT count(*) FROM outbox WHERE state = 'received'");
    news.is_new = true;
    news.newly_received = after - before;
    transaction.commit();
    return news;
}

std::vector<model::NumberedDigest> read_written_elsewhere(Database& database) {
    Statement rows(database, "SELECT seq, life, digest FROM office_holds WHERE life = (SELECT max(life) FROM "
                             "identity) AND digest NOT IN (SELECT digest FROM outbox) ORDER BY seq, digest");
    std::vector<model::NumberedDigest> out;
    while (rows.step()) {
        out.push_back({rows.number(0), rows.number(1), rows.text(2)});
    }
    return out;
}

std::vector<std::string> read_droppable(Database& database, model::Timestamp now) {
    std::vector<std::string> out;
    for (const OutboxRow& row : read_outbox(database)) {
        if (may_drop(row, now)) {
            out.push_back(row.digest);
        }
    }
    return out;
}

model::Done drop_bytes(Database& database, const std::vector<std::string>& digests, model::Timestamp now) {
    Transaction transaction(database);
    const std::vector<std::string> allowed = read_droppable(database, now);
    Statement drop(database, "UPDATE outbox SET bytes = x'' WHERE digest = ?1");
    for (const std::string& digest : digests) {
        if (std::ranges::find(allowed, digest) == allowed.end()) {
            return Problem{"bundle " + digest.substr(0, 8),
                           "the office has not confirmed it for 90 days: it stays on this tablet",
                           "hand it over, load the office's receipt, and wait"};
        }
        drop.bind(1, digest).finish();
    }
    transaction.commit();
    return {};
}

} // namespace crossarm::store
