#include "sync/office/verify_files.hpp"

#include "sync/bundle/atomic_file.hpp"
#include "sync/bundle/bundle.hpp"
#include "sync/bundle/day_pack.hpp"
#include "sync/bundle/enrolment.hpp"
#include "sync/bundle/receipt.hpp"
#include "sync/office/office_keys.hpp"

namespace crossarm::office {

namespace {

using model::Result;
using seal::Kind;

/// By the words of the format; a quote within a text is escaped, so this can only be a member's value.
Kind kind_of(const std::string& bytes) {
    const auto has = [&bytes](const char* format) {
        return bytes.find("\"format\":\"crossarm." + std::string(format)) != std::string::npos;
    };
    // A day pack may hold receipts.
    return has("day-pack/")    ? Kind::DayPack
           : has("receipt/")   ? Kind::Receipt
           : has("enrolment/") ? Kind::Enrolment
                               : Kind::Bundle;
}

Result<std::string> known(const std::string& bytes, const std::string& file, Kind kind, const Keys& keys) {
    if (kind == Kind::DayPack) {
        const auto pack = bundle::read_day_pack(bytes, file, keys.office);
        return pack ? Result<std::string>("day pack " + std::to_string(pack->number) + " of " + pack->office)
                    : pack.problem();
    }
    if (kind == Kind::Receipt) {
        const auto read = bundle::read_receipt(bytes, file, keys.office);
        return read ? Result<std::string>("receipt " + std::to_string(read->receipt.count) + " for tablet " +
                                          read->receipt.device)
                    : read.problem();
    }
    const auto read = bundle::read_bundle(bytes, file, keys.tablets);
    return read ? Result<std::string>("bundle " + std::to_string(read->bundle.seq) + " of tablet " +
                                      read->bundle.device + ", " + read->bundle.structure.id + ", digest " +
                                      read->digest)
                : read.problem();
}

} // namespace

Result<Keys> keys_of(const OfficeStore& store, model::Timestamp now) {
    auto ring = keys_for_intake(store, now);
    const auto own = office_keys_made(store);
    if (!ring || !own) {
        return ring ? own.problem() : ring.problem();
    }
    Keys keys{std::move(*ring), {}};
    for (const seal::PublicKey& key : *own) {
        keys.office.add({key, {seal::Owner::Kind::Office, "this office"}});
    }
    return keys;
}

Result<std::string> verify_file(const std::string& file, const Keys* keys) {
    const auto bytes = bundle::read_whole(file, bundle::kMostFileBytes);
    if (!bytes) {
        return bytes.problem();
    }
    const Kind kind = kind_of(*bytes);
    if (kind == Kind::Enrolment) {
        const auto read = bundle::read_enrolment(*bytes, file);
        if (!read) {
            return read.problem();
        }
        return file + ": whole; enrolment of tablet " + read->enrolment.device + ", life " +
               std::to_string(read->enrolment.life);
    }
    if (keys != nullptr) {
        const auto said = known(*bytes, file, kind, *keys);
        return said ? Result<std::string>(file + ": whole; " + *said) : said.problem();
    }
    const auto found = seal::find_body(*bytes, file, kind);
    if (!found) {
        return found.problem();
    }
    return file + ": whole; " + std::string(seal::name_of(kind)) + ", digest " + found->seal.digest +
           ", says that key " + found->seal.by.substr(0, 8) +
           " sealed it; give --store to check whose key that is";
}

} // namespace crossarm::office
