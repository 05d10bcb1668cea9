#include "ui/app/trust.hpp"

#include "checklist/model/digest.hpp"
#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/enrolment.hpp"
#include "sync/bundle/receipt.hpp"

#include <optional>

namespace crossarm::ui {

namespace {

using model::Done;
using model::Problem;
using model::Result;

Result<store::ReceiptNews> take(store::Store& store, const std::string& bytes, const std::string& file,
                                model::Timestamp now) {
    const auto read = bundle::read_receipt(bytes, file, pinned_keys(store));
    if (!read) {
        return read.problem();
    }
    return store.take_receipt({read->digest, read->receipt, bytes, now});
}

Done take_receipts(store::Store& store, const bundle::DayPack& pack, const std::string& file,
                   model::Timestamp now) {
    for (std::size_t i = 0; i < pack.receipts.size(); ++i) {
        const std::string place = file + ": /body/receipts/" + std::to_string(i);
        const auto read = bundle::read_receipt(pack.receipts[i], place, pinned_keys(store));
        if (!read) {
            return read.problem();
        }
        if (read->receipt.device != store.device()) {
            continue; // one pack serves all tablets
        }
        if (const auto taken = store.take_receipt({read->digest, read->receipt, pack.receipts[i], now});
            !taken) {
            return taken.problem();
        }
    }
    return {};
}

} // namespace

seal::KeyRing pinned_keys(const store::Store& store) {
    seal::KeyRing ring;
    for (const store::PinnedKey& pinned : store.pinned()) {
        ring.add({pinned.key, {seal::Owner::Kind::Office, pinned.office}});
    }
    return ring;
}

Done meet_office(store::Store& store, std::string_view bytes, const std::string& file, seal::Kind kind,
                 const Compared& compared, model::Timestamp now) {
    const auto found = seal::open_introduced(bytes, file, kind);
    if (!found) {
        return found.problem();
    }
    const seal::KeyRing ring = pinned_keys(store);
    if (ring.find(found->seal.by) != nullptr) {
        return {};
    }
    const seal::PublicKey& key = *found->seal.key;
    if (seal::is_vouched(found->seal, ring)) {
        return store.pin({key, "", "", now});
    }
    if (compared.fingerprint.empty()) {
        return Problem{file + ": /seal/by",
                       "the office key " + found->seal.by.substr(0, 8) +
                           " that sealed it is not pinned on this tablet yet",
                       "let the office read out the digits of its key (crossarm-office key) and start with "
                       "--office-fingerprint \"DIGITS\" --compared-by NAME"};
    }
    if (!seal::is_fingerprint(compared.fingerprint, key)) {
        return Problem{"--office-fingerprint",
                       "these are not the digits of the key that sealed " + file + "; nothing was pinned",
                       "compare again with the office; if they differ, the file is not that office's: do not "
                       "use it"};
    }
    if (compared.by.empty()) {
        return Problem{"--compared-by", "it is not said who compared the digits", "name the person"};
    }
    return store.pin({key, "", compared.by, now});
}

Done load_day_pack(store::Store& store, const std::string& path, const Compared& compared,
                   model::Timestamp now) {
    const auto bytes = bundle::read_whole(path);
    if (!bytes) {
        return bytes.problem();
    }
    if (auto met = meet_office(store, *bytes, path, seal::Kind::DayPack, compared, now); !met) {
        return met;
    }
    const auto pack = bundle::read_day_pack(*bytes, path, pinned_keys(store));
    if (!pack) {
        return pack.problem();
    }
    if (auto kept = store.keep_day_pack({pack->number, model::sha256_hex(*bytes), *bytes, now}); !kept) {
        return kept;
    }
    return take_receipts(store, *pack, path, now);
}

Result<std::string> load_receipt(store::Store& store, const std::string& path, const Compared& compared,
                                 model::Timestamp now) {
    const auto bytes = bundle::read_whole(path);
    if (!bytes) {
        return bytes.problem();
    }
    if (auto met = meet_office(store, *bytes, path, seal::Kind::Receipt, compared, now); !met) {
        return met.problem();
    }
    const auto news = take(store, *bytes, path, now);
    if (!news) {
        return news.problem();
    }
    std::string said =
        path + ": " +
        (news->is_new ? std::to_string(news->newly_received) + " more bundles received by the office"
                      : std::string("taken before, nothing new"));
    if (news->office_went_back) {
        said += "; the office's records went back: hand all bundles over again";
    }
    if (!store.written_elsewhere().empty()) {
        said += "; the office holds a bundle in this tablet's name that it never wrote: begin a new life "
                "(--new-life) and enrol again";
    }
    return said;
}

Result<std::string> write_enrolment_file(const store::Store& store, const std::string& path,
                                         model::Timestamp now) {
    const seal::KeyPair key = seal::KeyPair::from_seed(store.identity().seed);
    const auto enrolment = bundle::write_enrolment({store.device(), store.identity().life, now}, key);
    if (auto written = bundle::write_atomically(path, enrolment.bytes); !written) {
        return written.problem();
    }
    return seal::fingerprint(key.public_key());
}

} // namespace crossarm::ui
