#include "sync/bundle/receipt.hpp"

#include "checklist/model/json_reader.hpp"
#include "sync/bundle/structure_fields.hpp"
#include "sync/bundle/utf8.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <utility>

namespace crossarm::bundle {

namespace {

using Json = nlohmann::json;
using model::JsonReader;
using model::NumberedDigest;
using model::Problem;
using model::Result;

constexpr const char* kFormat = "crossarm.receipt/1";
constexpr const char* kAgain = "ask the office for a new receipt";

Json to_json(const NumberedDigest& bundle) {
    return {{"seq", bundle.seq}, {"life", bundle.life}, {"digest", bundle.digest}};
}

Json to_json(const model::HeldBackFile& file) {
    return {{"digest", file.digest}, {"reason", file.reason}};
}

template<typename T>
Json list(const std::vector<T>& items) {
    Json out = Json::array();
    for (const T& item : items) {
        out.push_back(to_json(item));
    }
    return out;
}

std::string read_hex(const JsonReader& reader, const char* name, std::size_t size) {
    std::string text = reader.text(name);
    const bool is_hex =
        std::ranges::all_of(text, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
    if (!is_hex || text.size() != size) {
        reader.wrong(name, in_quotes(text) + " is not " + std::to_string(size) + " hexadecimal digits",
                     kAgain);
    }
    return text;
}

std::int64_t read_count(const JsonReader& reader, const char* name) {
    const std::int64_t number = reader.integer(name);
    if (number < 1) {
        reader.wrong(name, "it is counted from 1", kAgain);
    }
    return number;
}

NumberedDigest read_bundle_name(const JsonReader& reader) {
    reader.only({"seq", "life", "digest"});
    return {read_count(reader, "seq"), read_count(reader, "life"), read_hex(reader, "digest", 64)};
}

std::vector<NumberedDigest> read_names(const JsonReader& reader, const char* name) {
    std::vector<NumberedDigest> out;
    for (const JsonReader& item : reader.objects(name)) {
        out.push_back(read_bundle_name(item));
    }
    return out;
}

model::Receipt read_shape(const JsonReader& reader) {
    reader.only({"format", "office", "epoch", "count", "device", "at", "have", "completeUpTo", "heldBack",
                 "gaps", "forks"});
    model::Receipt receipt;
    receipt.office = reader.text("office");
    receipt.epoch = read_hex(reader, "epoch", 32);
    receipt.count = read_count(reader, "count");
    receipt.device = reader.text("device");
    if (!is_plain_id(receipt.device)) {
        reader.wrong("device", in_quotes(receipt.device) + " is not a tablet's id", kAgain);
    }
    receipt.at = reader.time("at");
    receipt.have = read_names(reader, "have");
    if (reader.has("completeUpTo")) {
        receipt.complete_up_to = read_bundle_name(reader.object("completeUpTo"));
    }
    for (const JsonReader& item : reader.objects("heldBack")) {
        item.only({"digest", "reason"});
        receipt.held_back.push_back({read_hex(item, "digest", 64), item.text("reason")});
    }
    receipt.gaps = read_names(reader, "gaps");
    for (const JsonReader& item : reader.objects("forks")) {
        item.only({"seq"});
        receipt.forks.push_back(read_count(item, "seq"));
    }
    return receipt;
}

} // namespace

Sealed write_receipt(const model::Receipt& receipt, const seal::KeyPair& key,
                     const std::optional<seal::Vouch>& vouch) {
    Json forks = Json::array();
    for (const std::int64_t seq : receipt.forks) {
        forks.push_back({{"seq", seq}});
    }
    Json body = {{"format", kFormat},          {"office", receipt.office},
                 {"epoch", receipt.epoch},     {"count", receipt.count},
                 {"device", receipt.device},   {"at", model::to_text(receipt.at)},
                 {"have", list(receipt.have)}, {"heldBack", list(receipt.held_back)},
                 {"gaps", list(receipt.gaps)}, {"forks", std::move(forks)}};
    if (receipt.complete_up_to) {
        body["completeUpTo"] = to_json(*receipt.complete_up_to);
    }
    return seal_introduced_json(body, seal::Kind::Receipt, key, vouch);
}

Result<ReadReceipt> read_receipt(std::string_view bytes, std::string_view file, const seal::KeyRing& ring) {
    const auto sealed = open_sealed(bytes, file, seal::Kind::Receipt, kFormat, ring);
    if (!sealed) {
        return sealed.problem();
    }
    if (sealed->by.owner.kind != seal::Owner::Kind::Office) {
        return Problem{std::string(file) + ": /seal/by", "a tablet sealed it, not an office", kAgain};
    }
    const JsonReader reader(sealed->body, std::string(file) + ": /body");
    return reader.done(ReadReceipt{read_shape(reader), sealed->seal.digest});
}

} // namespace crossarm::bundle
